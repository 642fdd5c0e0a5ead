"""A notebook in a real browser, as a family has it: rubric-kit open on a folder of records, Chromium on the page.

    def test_something(lab):
        page = lab("1_score_an_essay.ipynb")       # opened; nothing run yet
        run_all(page, ".rkd .rk-text")             # waits for the first useful output; gives the seconds that it took

``family_folder`` are the records that the notebooks are about: a copy of the invented family's, new for each file of
tests.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from rubric_kit.records.demo import build_demo

playwright_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")

STARTING = 90  # seconds for JupyterLab, and for a page of it, on a busy machine
SCREENS = {"small": (1366, 768), "large": (1920, 1080)}
Lab = Callable[..., Any]


@pytest.fixture(scope="session")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo") / "family"
    build_demo(folder).close()
    return folder


@pytest.fixture(scope="module")
def family_folder(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return Path(shutil.copytree(demo_folder, tmp_path_factory.mktemp("copy") / "family"))


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    program = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if program is None:
        pytest.skip("there is no Chromium on this machine")
    with playwright_api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox", "--disable-dev-shm-usage"])
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def address(family_folder: Path) -> Iterator[str]:
    """What ``rubric-kit open`` says where the notebooks are."""
    program = Path(sys.executable).with_name("rubric-kit")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = str(free.getsockname()[1])
    command = [program, "open", "--family", family_folder, "--no-browser", "--port", port]
    log = family_folder.parent / "open.log"
    with log.open("w") as out:
        server = subprocess.Popen(command, stdout=out, stderr=subprocess.STDOUT, start_new_session=True)
    try:
        yield _told(log, server)
    finally:
        os.killpg(server.pid, signal.SIGINT)  # as Ctrl-C does; the kernels end with it
        try:
            server.wait(20)
        except subprocess.TimeoutExpired:
            os.killpg(server.pid, signal.SIGKILL)


def _told(log: Path, server: subprocess.Popen[bytes]) -> str:
    ends = time.monotonic() + STARTING
    while time.monotonic() < ends and server.poll() is None:
        found = re.search(r"http://\S+", log.read_text())
        if found:
            return found[0]
        time.sleep(0.2)
    pytest.fail(f"rubric-kit open did not start: {log.read_text()}")


@pytest.fixture
def lab(chromium: Any, address: str) -> Iterator[Lab]:
    """Open a notebook on a screen ("small" or "large"). A test fails where the page fetched from outside, or a script
    of an essay ran (it would set ``window.ran``).
    """
    opened: list[Any] = []
    outside: list[str] = []

    def note(request: Any) -> None:
        if not request.url.startswith(("http://127.0.0.1:", "ws://127.0.0.1:", "data:", "blob:")):
            outside.append(request.url)

    def opener(notebook: str, screen: str = "small") -> Any:
        width, height = SCREENS[screen]
        page = chromium.new_page(viewport={"width": width, "height": height})
        page.set_default_timeout(30_000)
        page.on("request", note)
        opened.append(page)
        page.goto(re.sub(r"[^/]+\.ipynb", notebook, address))
        page.wait_for_selector(".jp-Notebook .jp-MarkdownOutput h1", timeout=STARTING * 1000)
        page.wait_for_selector(
            ".jp-Notebook-ExecutionIndicator[data-status=idle]", state="attached", timeout=STARTING * 1000
        )
        return page

    yield opener
    ran = [page.evaluate("window.ran") for page in opened]
    for page in opened:
        page.close()
    assert outside == []
    assert not any(ran)


@pytest.fixture
def run_all() -> Callable[[Any, str], float]:
    """Run all cells by the menu, and wait for something to appear; how many seconds that took."""

    def run(page: Any, awaited: str) -> float:
        page.get_by_role("menuitem", name="Run", exact=True).click()
        begun = time.monotonic()
        page.locator("#jp-mainmenu-run").get_by_text("Run All Cells", exact=True).click()
        page.wait_for_selector(awaited, timeout=STARTING * 1000)
        return time.monotonic() - begun

    return run


@pytest.fixture
def pictures(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where screenshots go, for a person to look at: the folder that PICTURES names, else a temporary one."""
    folder = Path(os.environ.get("PICTURES") or tmp_path_factory.mktemp("pictures"))
    folder.mkdir(parents=True, exist_ok=True)
    return folder
