"""A plugin of pytest that writes of each test that passes how long it and what it shares take (--record FILE)."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

SECONDS: dict[str, float] = {}
SETUP: dict[str, float] = {}
SHARED: dict[str, list[str]] = {}


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--record", type=Path, required=True)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_setup(item: pytest.Item) -> Iterator[None]:
    yield
    defs = item._fixtureinfo.name2fixturedefs if isinstance(item, pytest.Function) else {}
    SHARED[item.nodeid] = sorted(
        f"{d.baseid}::{name}" for name, (*_, d) in defs.items() if d.baseid and d.scope != "function"
    )


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    if report.when == "setup":
        SETUP[report.nodeid] = report.duration
    if report.when == "call" and report.passed:
        SECONDS[report.nodeid] = report.duration


def pytest_sessionfinish(session: pytest.Session) -> None:
    tests = {n: {"seconds": SECONDS[n], "setup": SETUP[n], "shared": SHARED.get(n, [])} for n in SECONDS}
    session.config.getoption("--record").write_text(json.dumps(tests, indent=0), "utf-8")
