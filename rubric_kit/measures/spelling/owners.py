"""Names that own something but lack the apostrophe: "Hooks ship" in an essay about Hook."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rubric_kit.measures.found import Found
from rubric_kit.measures.spelling.known import plain
from rubric_kit.measures.spelling.words import is_common

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rubric_kit.measures.parse import Parse
    from rubric_kit.measures.spelling.capitals import Capitals
    from rubric_kit.reading import Essay

KIND = "apostrophe missing"
THINGS = frozenset({"NN", "NNS"})
QUALITIES = frozenset({"JJ", "JJS", "CD"})  # "Toads first car"
SEVERAL = frozenset({"the", "all", "both", "two", "three", "four", "many", "some", "most", "these", "those"})  # plurals


def owners(essay: Essay, parse: Parse, capitals: Capitals) -> Iterator[Found]:
    """Words like "Hooks" where "Hook" is a name in the essay and a thing follows."""
    tags = parse.tree.tag_at
    for number, paragraph in enumerate(essay.paragraphs, start=1):
        for sentence in paragraph.sentences:
            words = sentence.words
            for place, word in enumerate(words[:-1]):
                owner, s = word.text[:-1], word.text[-1:]
                if s != "s" or not (owner.isalpha() and owner[0].isupper() and capitals.has_inside(owner.lower())):
                    continue
                if place and plain(words[place - 1].text) in SEVERAL:
                    continue
                if capitals.opens(words, place) and is_common(word.text.lower()):
                    continue  # Its, Hers
                following = [tags.get(other.start, "") for other in words[place + 1 : place + 3]]
                if following[0] in THINGS or (following[0] in QUALITIES and following[1:2] and following[1] in THINGS):
                    why = f"What follows belongs to {owner}, so the name takes an apostrophe: “{owner}'s”."
                    yield Found(word.text, word.start, word.end, KIND, why, number, (f"{owner}'s",))
