"""The grammatical parse: spaCy's small English pipeline on the child's own sentence boundaries."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rubric_kit.measures.clauses import Clause, finite_clauses
from rubric_kit.measures.pipeline import pipeline
from rubric_kit.measures.tree import Tree

if TYPE_CHECKING:
    from spacy.language import Language
    from spacy.tokens import Doc, Span

    from rubric_kit.reading import Essay

# Same length on both sides, so that a place in the parse is a place in the child's text.
PLAIN = str.maketrans("\n\r\t\u00a0\u2018\u2019\u201c\u201d\u2013\u2014", "    ''\"\"--")

STARTS, GOES_ON = 1, -1  # spaCy's values for a token that starts a sentence, and one that does not


@dataclass(frozen=True, slots=True)
class Parse:
    """One spaCy document for the whole essay; ``token.idx`` is the token's place in ``essay.text``.

    sentences  the parsed spans, one for each of ``essay.sentences``, in the same order
    title      the title in small letters, since capitals make names of its words; empty without one
    tree       ``doc`` as plain lists; clauses: its finite clauses by the number of their predicate
    """

    doc: Doc
    sentences: tuple[Span, ...]
    title: Doc
    tree: Tree
    clauses: Mapping[int, Clause]


def parse(essay: Essay) -> Parse:
    """Parse an essay with the sentence boundaries found by reading; heading and title are left blank."""
    (parsed,) = parse_many([essay])
    return parsed


def parse_many(essays: Sequence[Essay]) -> Iterator[Parse]:
    """Parse essays in one batch, each just as ``parse`` would; all are in memory until the last is given out."""
    nlp = pipeline()
    bodies = [_body(nlp, essay) for essay in essays]
    titles = [nlp.make_doc(essay.title.text.lower() if essay.title else "") for essay in essays]
    docs = list(nlp.pipe([*bodies, *titles], batch_size=2 * len(essays)))
    for essay, doc, title in zip(essays, docs, docs[len(essays) :], strict=False):
        spans = (doc.char_span(s.start, s.end, alignment_mode="expand") for s in essay.sentences)
        tree = Tree(doc)
        yield Parse(doc, tuple(s for s in spans if s is not None), title, tree, finite_clauses(tree))


def _body(nlp: Language, essay: Essay) -> Doc:
    """The words of an essay's paragraphs, unparsed, with their sentences marked."""
    import numpy as np

    plain = essay.text.translate(PLAIN)
    blanked = []
    done = 0
    for paragraph in essay.paragraphs:
        blanked += [" " * (paragraph.start - done), plain[paragraph.start : paragraph.end]]
        done = paragraph.end
    doc = nlp.make_doc("".join(blanked))
    starts = {sentence.start for sentence in essay.sentences}
    # All at once: to set them token by token looks through the whole text each time.
    marks = [STARTS if i == 0 or place in starts else GOES_ON for i, place in enumerate(doc.to_array("IDX").tolist())]
    doc.from_array("SENT_START", np.array(marks).astype(np.uint64))  # type: ignore[arg-type]  # its stub wants a table
    return doc
