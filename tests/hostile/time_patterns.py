"""Time every pattern of the package on texts made against it; one JSON object on stdout. Run by test_patterns.py."""

from __future__ import annotations

import json
import re
import signal
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from patterns import AT_ONE_PLACE, USES, Place, attacks, compiled, uses, written

SHORT, LONG = 4_000, 16_000  # characters
GROWTH = 10  # times the time for four times the text: 4 is linear, 16 is square
CALM = 0.1  # seconds of the processor for LONG: a linear pattern takes a tenth of that
AT_MOST = 10  # seconds: then it is stopped
# Patterns that may take the square of the time, by file and beginning, with the longest text that they are ever given.
BOUNDED = {
    r"measures/spelling/known.py ([aeiouyhmrsz])\1\1|(.)\2\2+$": 1_000,  # one word: reading.files.RUN_LIMIT
    r"reading/front.py [ \u00a0]*\t\s*|[ \u00a0]{3,}": 60,  # LONGEST_HEADING
    "reading/front.py (?:question|prompt|assignment": 300,  # LONGEST_PROMPT
    "measures/mechanics/word_slips.py (?:": 40,  # WINDOW
}


class TooSlowError(Exception):
    pass


def ways(place: Place, how: dict[Place, frozenset[str]]) -> frozenset[str]:
    used = how.get(place, USES)
    return used & AT_ONE_PLACE | ({"finditer"} if used - AT_ONE_PLACE else frozenset())


def seconds(run: Callable[[str], object], text: str) -> float:
    """Of the processor, the quicker of two runs where one was slow."""
    signal.setitimer(signal.ITIMER_REAL, AT_MOST)
    try:
        times = []
        while len(times) < 2:
            before = time.process_time()
            found = run(text)
            if isinstance(found, Iterator):
                sum(1 for _ in found)
            times.append(time.process_time() - before)
            if times[-1] < CALM:
                break
        return min(times)
    except TooSlowError:
        return float(AT_MOST)
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)


def slow_on(pattern: re.Pattern[str], file: str, used: frozenset[str]) -> str:
    """The way of using it and the text on which a pattern is slow, if there is one."""
    named = f"{file} {pattern.pattern}"
    limit = next((limit for begin, limit in BOUNDED.items() if named.startswith(begin)), None)
    for long, short in zip(attacks(pattern, limit or LONG), attacks(pattern, SHORT), strict=True):
        for method in sorted(used):
            took = seconds(getattr(pattern, method), long)
            if took > CALM and (limit or took > GROWTH * seconds(getattr(pattern, method), short)):
                return f"{method}: {long[:30]!r}... {took:.2f} s"
    return ""


def stop(*_: object) -> None:
    raise TooSlowError


if __name__ == "__main__":
    signal.signal(signal.SIGALRM, stop)
    found, how = compiled(), uses()
    in_full = {place: {pattern} for place, pattern in written().items() if pattern}
    slow = {}
    for place, patterns in (in_full | found).items():
        for pattern in patterns:
            if text := slow_on(pattern, place[0], ways(place, how)):
                slow[f"{place[0]}:{place[1]} {pattern.pattern[:60]}"] = text
    unseen = sorted(f"{file}:{line}" for file, line in set(written()) - set(found) - set(in_full))
    print(json.dumps({"slow": slow, "unseen": unseen, "patterns": sum(map(len, (in_full | found).values()))}))
