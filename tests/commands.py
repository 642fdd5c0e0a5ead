"""Running a command as a parent does, and reading what it says."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from typer.testing import CliRunner, Result

from rubric_kit import cli

SAMPLES = Path(__file__).parents[1] / "sample_essays"
ESSAY = SAMPLES / "2026-05-15_tamsin_call-of-the-wild.odt"
FINE, INPUT, COMMAND_LINE = 0, 1, 2  # exit codes


def run(*arguments: object, given: str | None = None, code: int = FINE) -> Result:
    result = CliRunner().invoke(cli.app, [str(a) for a in arguments], input=given)
    assert result.exit_code == code, result.output
    assert "Traceback" not in result.output
    return result


def read(*arguments: object) -> Any:
    return json.loads(run(*arguments, "--json").stdout)


def said(result: Result) -> str:
    return " ".join(result.output.split())
