"""The grammatical parse: spaCy's small English pipeline on the child's own sentence boundaries."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import chain, pairwise
from typing import TYPE_CHECKING, TypeVar

from rubric_kit.measures.attributes import LEMMATIZER, RULER, Attributes
from rubric_kit.measures.clauses import Clause, finite_clauses
from rubric_kit.measures.pipeline import pipeline
from rubric_kit.measures.tree import Tree

if TYPE_CHECKING:
    from spacy.language import Language
    from spacy.tokens import Doc, Span

    from rubric_kit.reading import Essay

# Same length on both sides, so that a place in the parse is a place in the child's text.
PLAIN = str.maketrans("\n\r\t\u00a0\u2018\u2019\u201c\u201d\u2013\u2014", "    ''\"\"--")

# Characters parsed at once, some twenty essays, and the longest piece of a book: more is no faster (measured up to
# 150,000), and the parser takes 100 MB for each 30,000.
BATCH = 50_000
STARTS, GOES_ON = 1, -1  # spaCy's values for a token that starts a sentence, and one that does not

Item = TypeVar("Item")


@dataclass(frozen=True, slots=True, eq=False)  # each is itself alone, so that what was found in it can be remembered
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
    """Parse essays in batches, each just as ``parse`` would; all are in memory until the last is given out.

    nlp.pipe fills in the documents that it is given, each of which is one of the pieces or titles here.
    """
    from spacy.tokens import Doc

    nlp, attributes = pipeline(), _attributes()
    pieces = [_pieces(nlp, essay) for essay in essays]
    titles = [nlp.make_doc(essay.title.text.lower() if essay.title else "") for essay in essays]
    for batch in batches(chain(titles, *pieces), lambda doc: len(doc.text)):
        for doc in nlp.pipe(batch, batch_size=len(batch), disable=[RULER, LEMMATIZER]):
            attributes.fill_in(doc)
    for essay, parts, title in zip(essays, pieces, titles, strict=True):
        doc = Doc.from_docs(parts, ensure_whitespace=False) if len(parts) > 1 else parts[0]
        spans = (doc.char_span(s.start, s.end, alignment_mode="expand") for s in essay.sentences)
        tree = Tree(doc)
        yield Parse(doc, tuple(s for s in spans if s is not None), title, tree, finite_clauses(tree))


@cache
def _attributes() -> Attributes:
    return Attributes(pipeline())


def batches(items: Iterable[Item], length: Callable[[Item], int]) -> Iterator[list[Item]]:
    """Lists of what is best parsed together; ``length`` is an item's, in characters."""
    batch: list[Item] = []
    room = BATCH
    for item in items:
        batch.append(item)
        room -= length(item)
        if room <= 0:
            yield batch
            batch, room = [], BATCH
    if batch:
        yield batch


def _pieces(nlp: Language, essay: Essay) -> list[Doc]:
    """The words of an essay's paragraphs, unparsed, with their sentences marked; those of a book in several pieces."""
    plain = essay.text.translate(PLAIN)
    blanked = []
    done = 0
    for paragraph in essay.paragraphs:
        blanked += [" " * (paragraph.start - done), plain[paragraph.start : paragraph.end]]
        done = paragraph.end
    text = "".join(blanked)
    cuts = [0]
    for sentence in essay.sentences:
        if sentence.start - cuts[-1] >= BATCH:
            cuts.append(sentence.start)
    starts = {sentence.start for sentence in essay.sentences}
    return [_marked(nlp.make_doc(text[a:b]), a, starts) for a, b in pairwise([*cuts, len(text)])]


def _marked(doc: Doc, offset: int, starts: Collection[int]) -> Doc:
    """A piece with its sentence starts marked, which are counted from the start of the essay."""
    import numpy as np

    # All at once: to set them token by token looks through the whole text each time.
    places = doc.to_array("IDX").tolist()
    marks = [STARTS if i == 0 or offset + place in starts else GOES_ON for i, place in enumerate(places)]
    doc.from_array("SENT_START", np.array(marks).astype(np.uint64))  # type: ignore[arg-type]  # its stub wants a table
    return doc
