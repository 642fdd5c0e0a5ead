"""Which sentence of a second draft came from which of the first: by the words that both have, and by their order.

Words are weighted by rarity; a respelled or inflected word counts as the word itself. Among pairs, splits and joins the
best chain in order is found exactly (a weighted longest increasing chain); what is left over and much alike was moved.
tests/scoring/measure_revisions.py measures it on drafts aligned by hand.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_left, bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from typing import NamedTuple

from rubric_kit.measures.meaning import rarity
from rubric_kit.reading import Essay

# Each the middle of the range that does best on tests/scoring/revisions/tune.
LEAST_ALIKE = 0.25  # likeness (0 to 1) from which a pair in order is the same sentence said anew
LEAST_ALIKE_MOVED = 0.55  # the same for a pair out of order, which its neighbours do not vouch for
LEAST_ALIKE_GROUP = 0.45  # the same for a sentence and those that it was split into or joined from
LEAST_PART = 0.30  # share of a part's weight that it alone has in common with the whole it was split or joined
LEAST_WEIGHT = 0.3  # of the commonest words, so that a sentence of nothing else still has words to compare
RARER_SAYS_MORE = 1.5  # power of a word's rarity (0 to 5): that two sentences share "it was" says little
LIKE_SPELLING = 70.0  # rapidfuzz ratio (0 to 100) from which two words are taken for one, respelled or inflected
SHORTEST_RESPELLED = 4  # letters: "then" and "the" are two words
LONGEST_GROUP = 3  # sentences that one is split into or joined from
STAYED = 4.0  # a pair counts so much more where its paragraphs belong together: of two that swap, this one stayed
TOO_COMMON = 60  # sentences of a draft; a word in more of them finds no pairs, so that long texts stay fast

WORD = re.compile(r"[^\W_]+(?:['\u2019][^\W_]+)*")
QUOTES = str.maketrans("\u2018\u2019\u201c\u201d", "''\"\"")

Terms = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Link:
    """Sentences of the first draft and those of the second that came from them; numbers from 0.

    moved  out of the order of the others
    """

    before: tuple[int, ...]
    after: tuple[int, ...]
    moved: bool = False


@dataclass(frozen=True, slots=True)
class Draft:
    """What is compared of a draft, an item a sentence: its plain text, its words with their weight, its paragraph."""

    plain: tuple[str, ...]
    terms: tuple[Terms, ...]
    paragraphs: tuple[int, ...]


class _Chain(NamedTuple):
    """Links in order, the last first; ``end`` is one past their last sentence of the second draft."""

    end: int
    gain: float
    link: Link | None
    rest: _Chain | None


def align(before: Essay, after: Essay) -> tuple[Link, ...]:
    """Every pair, split and join of sentences, in the order of the first draft; no sentence is in two of them."""
    second = _draft(after)
    first = _respelled(_draft(before), second)
    pairs = _pairs(first, second)
    homes = _homes(first, second, pairs)
    gains: dict[Link, float] = {}
    for link in (*(Link((i,), (j,)) for i, j in pairs), *_groups(first, second, pairs)):
        one_to_one = len(link.before) == len(link.after)
        gain = _gain(first, second, link.before, link.after, LEAST_ALIKE if one_to_one else LEAST_ALIKE_GROUP)
        stayed = homes.get(second.paragraphs[link.after[0]]) == first.paragraphs[link.before[0]]
        if gain:
            gains[link] = gain * (STAYED if stayed else 1.0)
    chain = _chain(gains)
    moved = _moved(first, second, pairs, chain)
    return tuple(sorted((*chain, *moved), key=lambda link: (link.before, link.after)))


def plain(sentence: str) -> str:
    """A sentence without what makes no difference: line ends, runs of spaces, the shape of quotation marks."""
    return " ".join(sentence.translate(QUOTES).split())


def _draft(essay: Essay) -> Draft:
    texts = tuple(plain(essay.text[s.start : s.end]) for s in essay.sentences)
    words = [set(WORD.findall(text.lower())) for text in texts]
    common = {word for word, times in Counter(w for ws in words for w in ws).items() if times > TOO_COMMON}
    terms = tuple({w: _weight(w) for w in sorted(ws - common)} for ws in words)
    paragraphs = tuple(n for n, p in enumerate(essay.paragraphs) for _ in p.sentences)
    return Draft(texts, terms, paragraphs)


def _respelled(first: Draft, second: Draft) -> Draft:
    """The first draft with each word that the second has not under the most similar word that only the second has."""
    from rapidfuzz import fuzz, process

    ours = {w for terms in first.terms for w in terms if len(w) >= SHORTEST_RESPELLED}
    theirs = {w for terms in second.terms for w in terms if len(w) >= SHORTEST_RESPELLED}
    new = sorted(theirs - ours)
    found = ((w, process.extractOne(w, new, scorer=fuzz.ratio, score_cutoff=LIKE_SPELLING)) for w in ours - theirs)
    now = {w: best[0] for w, best in found if best}
    terms = tuple({now.get(w, w): _weight(now.get(w, w)) for w in terms} for terms in first.terms)
    return Draft(first.plain, terms, first.paragraphs)


def _weight(word: str) -> float:
    return max(LEAST_WEIGHT, float(rarity(word) ** RARER_SAYS_MORE))


def _pairs(first: Draft, second: Draft) -> list[tuple[int, int]]:
    """Sentences that share a word, and those that are the same (the nth such here with the nth such there)."""
    having: dict[str, list[int]] = defaultdict(list)
    for j, terms in enumerate(second.terms):
        for word in terms:
            having[word].append(j)
    sharing = {(i, j) for i, terms in enumerate(first.terms) for word in terms for j in having.get(word, ())}
    theirs = {text: j for j, text in _numbered(second.plain)}
    same = {(i, theirs[text]) for i, text in _numbered(first.plain) if text in theirs}
    return sorted(sharing | same)


def _numbered(texts: Sequence[str]) -> Iterator[tuple[int, tuple[str, int]]]:
    seen: Counter[str] = Counter()
    for i, text in enumerate(texts):
        yield i, (text, seen[text])
        seen[text] += 1


def _likeness(first: Draft, second: Draft, before: Sequence[int], after: Sequence[int]) -> float:
    """Dice's coefficient of the words by weight; 1 where the text is the same."""
    ours = {w: weight for i in before for w, weight in first.terms[i].items()}
    theirs = {w: weight for j in after for w, weight in second.terms[j].items()}
    if [first.plain[i] for i in before] == [second.plain[j] for j in after]:
        return 1.0
    total = sum(ours.values()) + sum(theirs.values())
    shared = sum(ours[w] + theirs[w] for w in ours.keys() & theirs.keys())
    return shared / total if total else 0.0


def _gain(first: Draft, second: Draft, before: Sequence[int], after: Sequence[int], least: float) -> float:
    """What a link adds to its chain, 0 where it is not alike enough.

    By words, so that of two that swap the one of fewer words moved; the root, so that being changed counts less.
    """
    words = sum(len(first.terms[i]) for i in before) + sum(len(second.terms[j]) for j in after)
    return math.sqrt(max(0.0, _likeness(first, second, before, after) - least)) * max(words, 1)


def _homes(first: Draft, second: Draft, pairs: Iterable[tuple[int, int]]) -> dict[int, int]:
    """For each paragraph of the second draft the one of the first that most of it came from."""
    gained: dict[int, dict[int, float]] = defaultdict(lambda: defaultdict(float))
    for i, j in pairs:
        gained[second.paragraphs[j]][first.paragraphs[i]] += _gain(first, second, (i,), (j,), LEAST_ALIKE)
    return {home: max(origins, key=lambda origin: origins[origin]) for home, origins in gained.items()}


def _groups(first: Draft, second: Draft, pairs: Iterable[tuple[int, int]]) -> Iterator[Link]:
    """One sentence and two or three neighbours, each of which brings words of its own to it."""
    for i, j in pairs:
        for size in range(2, LONGEST_GROUP + 1):
            run = tuple(range(j, j + size))
            if run[-1] < len(second.terms) and _all_bring([second.terms[n] for n in run], first.terms[i]):
                yield Link((i,), run)
            run = tuple(range(i, i + size))
            if run[-1] < len(first.terms) and _all_bring([first.terms[n] for n in run], second.terms[j]):
                yield Link(run, (j,))


def _all_bring(parts: Sequence[Terms], whole: Terms) -> bool:
    times = Counter(w for part in parts for w in part)
    return all(
        sum(weight for w, weight in part.items() if w in whole and times[w] == 1) >= LEAST_PART * sum(part.values())
        for part in parts
    )


def _chain(gains: Mapping[Link, float]) -> list[Link]:
    """The links in order on both sides that together gain most."""
    reached = [_Chain(0, 0.0, None, None)]  # the best so far, rising both in where they end and in what they gain
    waiting: list[tuple[int, int, _Chain]] = []  # by where they end in the first draft
    for n, link in enumerate(sorted(gains, key=lambda link: (link.before[0], link.after[0]))):
        while waiting and waiting[0][0] <= link.before[0]:
            _reach(reached, heappop(waiting)[2])
        last = reached[bisect_right(reached, link.after[0], key=lambda chain: chain.end) - 1]
        heappush(waiting, (link.before[-1] + 1, n, _Chain(link.after[-1] + 1, last.gain + gains[link], link, last)))
    for _, _, chain in waiting:
        _reach(reached, chain)
    found, chain = [], reached[-1]
    while chain.link and chain.rest:
        found.append(chain.link)
        chain = chain.rest
    return found[::-1]


def _reach(reached: list[_Chain], chain: _Chain) -> None:
    at = bisect_left(reached, chain.end, key=lambda other: other.end)
    known = at < len(reached) and reached[at].end == chain.end
    if reached[at if known else at - 1].gain >= chain.gain:
        return
    upto = next((n for n in range(at, len(reached)) if reached[n].gain > chain.gain), len(reached))
    reached[at:upto] = [chain]


def _moved(first: Draft, second: Draft, pairs: Iterable[tuple[int, int]], chain: Iterable[Link]) -> Iterator[Link]:
    """Of the sentences left over, the most alike first."""
    ours = {i for link in chain for i in link.before}
    theirs = {j for link in chain for j in link.after}
    free = [(i, j) for i, j in pairs if i not in ours and j not in theirs]
    alike = {pair: _likeness(first, second, pair[:1], pair[1:]) for pair in free}
    for i, j in sorted((p for p in free if alike[p] >= LEAST_ALIKE_MOVED), key=lambda p: -alike[p]):
        if i not in ours and j not in theirs:
            ours.add(i)
            theirs.add(j)
            yield Link((i,), (j,), moved=True)
