"""rubric-kit open: the notebooks in a browser, on the family's folder."""

from __future__ import annotations

import os
import socket
from contextlib import suppress
from importlib.util import find_spec
from pathlib import Path
from threading import Thread
from time import sleep
from typing import Annotated

import typer

from rubric_kit.cli.errors import errors_in_words, tell
from rubric_kit.cli.lab_settings import ADDRESS, write_settings
from rubric_kit.cli.options import FamilyFolder
from rubric_kit.errors import RubricKitError

app = typer.Typer()

FIRST_PORT = 8888
PORTS = 50  # tried one after the other
PAUSE, LONGEST = 0.2, 5.0  # seconds between two looks whether JupyterLab has started, and for one look
SETTINGS = ".jupyter"  # in the folder of the notebooks


@app.command(name="open")
def open_notebooks(
    family: FamilyFolder = None,
    demo: Annotated[bool, typer.Option("--demo", help="Open an invented family's year, to try things on.")] = False,
    browser: Annotated[bool, typer.Option(" /--no-browser", help="Do not open the browser, only say where.")] = True,
    port: Annotated[int | None, typer.Option(min=1024, max=65535, help="The port, if not the first free one.")] = None,
) -> None:
    """Open the notebooks in your browser: mark an essay, see the year, talk it over.

    Example: rubric-kit open --demo
    """
    from rubric_kit.records.family import FOLDER_VARIABLE, RECORDS, usual_folder
    from rubric_kit.showing.notebooks import SERVED_VARIABLE, copy_notebooks

    if demo and family:
        raise typer.BadParameter("--demo builds a family of its own, so it cannot go with --family.")
    with errors_in_words():
        if find_spec("jupyterlab") is None or find_spec("ipywidgets") is None:
            raise RubricKitError("The notebooks need JupyterLab. Install it: pip install 'rubric-kit[notebooks]'")
        folder = _demo() if demo else (family or usual_folder())
        if family and not (folder / RECORDS).is_file():
            raise RubricKitError(f'{folder}: there are no records there. Begin some: rubric-kit begin "{folder}"')
        first = copy_notebooks(folder)[0]
        if not (folder / RECORDS).is_file():
            tell("There are no records yet, so essays are only looked at. Begin some: rubric-kit begin")
        os.environ[FOLDER_VARIABLE] = os.environ[SERVED_VARIABLE] = str(folder.resolve())
        _serve(folder.resolve(), first.name, _free_port(port), browser=browser)


def _demo() -> Path:
    from tempfile import mkdtemp

    from rubric_kit.records.demo import build_demo

    folder = Path(mkdtemp(prefix="pellwood-"))
    tell("Building the Pellwoods' year; it takes some seconds.")
    build_demo(folder).close()
    return folder


def _serve(folder: Path, first: str, port: int, *, browser: bool) -> None:
    """JupyterLab on the folder until Ctrl-C; raises RubricKitError where it cannot start."""
    from secrets import token_urlsafe

    settings = folder / "notebooks" / SETTINGS
    os.environ["JUPYTER_CONFIG_DIR"] = str(settings)  # read when JupyterLab is imported
    from jupyterlab.commands import get_app_dir
    from jupyterlab.labapp import LabApp

    write_settings(settings, Path(get_app_dir()) / "schemas")
    page, token = f"/doc/tree/notebooks/{first}", token_urlsafe(32)
    told = (
        f"The notebooks are at http://{ADDRESS}:{port}{page}?token={token}\n"
        "There choose Run, then Run All Cells. To end, press Ctrl-C here."
    )
    Thread(target=_tell_when_ready, args=(port, token, told), daemon=True).start()
    LabApp.launch_instance(
        [
            "--log-level=ERROR",
            f"--port={port}",
            f"--ServerApp.root_dir={folder}",
            f"--LabApp.default_url={page}",
            f"--ServerApp.open_browser={browser}",
            f"--IdentityProvider.token={token}",
        ]
    )


def _tell_when_ready(port: int, token: str, told: str) -> None:
    """A page that was opened too early would say that nothing is there. Only our own JupyterLab knows the token."""
    from urllib.request import urlopen

    while True:
        with suppress(OSError), urlopen(f"http://{ADDRESS}:{port}/api/status?token={token}", timeout=LONGEST):
            typer.echo(told)
            return
        sleep(PAUSE)


def _free_port(wanted: int | None) -> int:
    """Raises RubricKitError where no port is free."""
    for port in [wanted] if wanted else range(FIRST_PORT, FIRST_PORT + PORTS):
        with socket.socket() as probe:
            try:
                probe.bind((ADDRESS, port))
            except OSError:
                continue
            return port
    raise RubricKitError(f"Port {wanted or FIRST_PORT} is taken. Name another one: rubric-kit open --port 9001")
