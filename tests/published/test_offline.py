"""Nothing needs a network, textstat's first call included."""

import subprocess
import sys

BLOCKED = """
import socket

def refuse(*args, **kwargs):
    raise OSError("the network is blocked in this test")

class NoSocket(socket.socket):
    __init__ = refuse

socket.socket, socket.create_connection, socket.getaddrinfo = NoSocket, refuse, refuse

from rubric_kit.measures.counts import count
from rubric_kit.measures.readability import readability
from rubric_kit.measures.second_opinion import second_opinion
from rubric_kit.reading.layout import essay_from_text

text = "The cat sat on the mat. The dog blorpled at its furry friend."
values = readability(count(essay_from_text(text, "text")))
assert all(result.value is not None for result in values.values())
opinion = second_opinion(text)
print(round(opinion["flesch_kincaid_grade"], 1))
"""


def test_reading_counting_readability_and_textstat_work_with_the_network_blocked(tmp_path):
    # a home and a working folder without any NLTK data
    environment = {"HOME": str(tmp_path), "PATH": "", "PYTHONDONTWRITEBYTECODE": "1"}
    run = subprocess.run(
        [sys.executable, "-c", BLOCKED],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    assert float(run.stdout) < 5
