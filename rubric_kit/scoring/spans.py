"""Which sentences stand behind a level, and which one a next step is tried on. Named in data/advice.toml."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence

from rubric_kit.measures.found import Found
from rubric_kit.measures.measured import Measures
from rubric_kit.measures.mechanics_rates import making_slips
from rubric_kit.measures.structure.parts import ParagraphPart
from rubric_kit.reading import Paragraph, Sentence
from rubric_kit.reading.lists import word_list

Show = Callable[[Measures], tuple[Found, ...]]
On = Callable[[Measures], Found | None]
TO_TRY = "to try the next step on"
CLOSING_WORDS = 2  # The End; so short a last line leaves nothing to work on


def _present(*items: Found | None) -> tuple[Found, ...]:
    return tuple(item for item in items if item is not None)


def _topic_sentences(m: Measures) -> tuple[Found, ...]:
    return _present(*(p.topic_sentence for p in m.structure.paragraphs))


def _openings(m: Measures) -> tuple[Found, ...]:
    firsts = (p.sentences[0] for p in m.essay.paragraphs)
    return tuple(_sentence(m, s, "opening", "opens a paragraph") for s in firsts)


def _long_and_short(m: Measures) -> tuple[Found, ...]:
    ordered = sorted(m.essay.sentences, key=lambda s: len(s.words))
    ends = {s.start: s for s in (*ordered[-1:], *ordered[:1])}.values()
    return tuple(_sentence(m, s, "sentence", _long(s)) for s in ends)


def _same_openings(m: Measures) -> tuple[Found, ...]:
    firsts = Counter(s.words[0].text.lower() for s in m.essay.sentences)
    word, times = max(firsts.items(), key=lambda item: item[1], default=("", 0))
    alike = [s for s in m.essay.sentences if s.words[0].text.lower() == word] if times > 1 else []
    return tuple(_sentence(m, s, "opening", f"{times} sentences open with this word") for s in alike)


def _sentence_slips(m: Measures) -> tuple[Found, ...]:
    return (*m.mechanics.run_ons, *m.mechanics.fragments, *m.mechanics.agreement)


def _making_slips(m: Measures) -> tuple[Found, ...]:
    return making_slips(m.mechanics)


def _spelling(m: Measures) -> tuple[Found, ...]:
    return _in_order((*m.mechanics.spelling, *m.mechanics.confused_words))


def _surface(m: Measures) -> tuple[Found, ...]:
    return _in_order((*m.mechanics.capitals, *m.mechanics.end_marks, *m.mechanics.repeated_words))


def _errors(m: Measures) -> tuple[Found, ...]:
    return _in_order((*_spelling(m), *_surface(m), *_sentence_slips(m)))


def _clean_sentence(m: Measures) -> tuple[Found, ...]:
    slips = [f.start for f in _errors(m)]
    clean = [s for s in m.essay.sentences if bisect_left(slips, s.start) == bisect_left(slips, s.end)]
    best = max(clean, key=lambda s: len(s.words), default=None)
    return (_sentence(m, best, "sentence", "no slip was found in it"),) if best else ()


SHOW: Mapping[str, Show] = {
    "thesis": lambda m: _present(m.structure.thesis),
    "forecast": lambda m: m.structure.forecast,
    "topic_sentences": _topic_sentences,
    "ending": lambda m: _present(m.structure.restated_thesis, m.structure.closing_thought),
    "paragraph_openings": _openings,
    "transitions": lambda m: m.structure.transitions,
    "evidence": lambda m: m.structure.evidence,
    "explanation": lambda m: m.structure.explanation,
    "long_and_short": _long_and_short,
    "same_openings": _same_openings,
    "sentence_slips": _sentence_slips,
    "making_slips": _making_slips,
    "spelling": _spelling,
    "surface": _surface,
    "errors": _errors,
    "odd_pairs": lambda m: m.odd_pairs,
    "clean_sentence": _clean_sentence,
}


def _without_the_end(m: Measures) -> Sequence[Sentence]:
    """The sentences but for a last one that only closes (The End), where there are others."""
    *others, last = m.essay.sentences or (None,)
    if not others or last is None:
        return m.essay.sentences
    closes = len(last.words) <= CLOSING_WORDS or "_".join(w.text.lower() for w in last.words) in word_list("closings")
    return m.essay.sentences[:-1] if closes else m.essay.sentences


def _opening(m: Measures) -> Found | None:
    return _at(m, m.essay.paragraphs[0], 0) if m.essay.paragraphs else None


def _last_sentence(m: Measures) -> Found | None:
    sentences = _without_the_end(m)
    return _sentence(m, sentences[-1], "sentence", TO_TRY) if sentences else None


def _middle_sentence(m: Measures) -> Found | None:
    longest = max(m.essay.paragraphs, key=lambda p: len(p.sentences), default=None)
    return _at(m, longest, len(longest.sentences) // 2) if longest else None


def _stray_topic(m: Measures) -> Found | None:
    return next((p.topic_sentence for p in m.structure.with_role("body") if not p.answers), None) or _opening(m)


def _pointless_body(m: Measures) -> Found | None:
    part = next((p for p in m.structure.with_role("body") if p.topic_sentence is None), None)
    return _first_of(m, part) if part else _opening(m)


def _unlinked_opening(m: Measures) -> Found | None:
    linked = [t.start for t in m.structure.transitions]
    later = m.essay.paragraphs[1:] or m.essay.paragraphs
    firsts = ((p, p.sentences[0]) for p in later)
    plain = (p for p, first in firsts if bisect_left(linked, first.start) == bisect_left(linked, first.end))
    paragraph = next(plain, None)
    return _at(m, paragraph, 0) if paragraph else _last_sentence(m)


def _thinnest_body(m: Measures) -> Found | None:
    part = min(m.structure.with_role("body"), key=lambda p: (p.evidence, p.sentences), default=None)
    return (part.topic_sentence or _first_of(m, part)) if part else _opening(m)


def _bare_evidence(m: Measures) -> Found | None:
    explained = {e.paragraph for e in m.structure.explanation}
    bare = (e for e in m.structure.evidence if e.paragraph not in explained)
    return next(bare, None) or next(iter(m.structure.evidence), None) or _thinnest_body(m)


def _plainest_sentence(m: Measures) -> Found | None:
    sentence = min(_without_the_end(m), key=lambda s: len(s.words), default=None)
    return _sentence(m, sentence, "sentence", _long(sentence)) if sentence else None


def _long(sentence: Sentence) -> str:
    return f"has {len(sentence.words)} {'word' if len(sentence.words) == 1 else 'words'}"


def _sentence_with(found: Callable[[Measures], Iterable[Found]]) -> On:
    """The sentence with most of these slips, or the plainest one where there is none."""

    def on(m: Measures) -> Found | None:
        around = [s for f in found(m) if (s := _around(m, f)) is not None]
        slips = Counter(s.start for s in around)
        worst = max(around, key=lambda s: slips[s.start], default=None)
        return _sentence(m, worst, "sentence", f"slips found: {slips[worst.start]}") if worst else _plainest_sentence(m)

    return on


def _but_the_end(on: On) -> On:
    """The same, but never a closing line such as The End: the plainest other sentence in its place."""

    def other(m: Measures) -> Found | None:
        found, kept = on(m), _without_the_end(m)
        return found if found is None or not kept or found.start < kept[-1].end else _plainest_sentence(m)

    return other


_ON: Mapping[str, On] = {
    "opening": _opening,
    "thesis_or_opening": lambda m: m.structure.thesis or _opening(m),
    "last_sentence": _last_sentence,
    "middle_sentence": _middle_sentence,
    "stray_topic": _stray_topic,
    "pointless_body": _pointless_body,
    "unlinked_opening": _unlinked_opening,
    "thinnest_body": _thinnest_body,
    "bare_evidence": _bare_evidence,
    "plainest_sentence": _plainest_sentence,
    "same_opening": lambda m: next(iter(_same_openings(m)[1:]), None) or _plainest_sentence(m),
    "sentence_slip": _sentence_with(_sentence_slips),
    "ill_made": _sentence_with(_making_slips),
    "misspelled": _sentence_with(_spelling),
    "surface_slip": _sentence_with(_surface),
    "worst_sentence": _sentence_with(_errors),
    "odd_pair": _sentence_with(lambda m: m.odd_pairs),
}
ON: Mapping[str, On] = {name: _but_the_end(on) for name, on in _ON.items()}


def _in_order(found: Iterable[Found]) -> tuple[Found, ...]:
    return tuple(sorted(found, key=lambda f: f.start))


def _around(m: Measures, found: Found) -> Sentence | None:
    sentences = m.essay.paragraphs[found.paragraph - 1].sentences
    last = bisect_right(sentences, found.start, key=lambda s: s.start) - 1
    return sentences[last] if last >= 0 and found.start < sentences[last].end else None


def _first_of(m: Measures, part: ParagraphPart) -> Found | None:
    return _at(m, m.essay.paragraphs[part.number - 1], 0)


def _at(m: Measures, paragraph: Paragraph, index: int) -> Found:
    return _sentence(m, paragraph.sentences[index], "sentence", TO_TRY)


def _sentence(m: Measures, sentence: Sentence, kind: str, why: str) -> Found:
    number = bisect_right(m.essay.paragraphs, sentence.start, key=lambda p: p.start)
    return Found(m.essay.text[sentence.start : sentence.end], sentence.start, sentence.end, kind, why, number)
