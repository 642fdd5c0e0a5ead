"""Files as handed in, byte for byte, each under the hash of what is in it; a name of a file never names a path."""

from __future__ import annotations

import os
import re
import tempfile
from hashlib import sha256
from pathlib import Path

from rubric_kit.errors import RecordsError

ENDING = re.compile(r"\.[A-Za-z0-9]{1,10}$")


def keep(folder: Path, content: bytes, file_name: str) -> str:
    """Keep a file's bytes for good and give back their SHA-256; the same bytes are kept once.

    Raises RecordsError where they cannot be written; then nothing is there.
    """
    digest = sha256(content).hexdigest()
    path = path_of(folder, digest, file_name)
    if path.exists() and sha256(path.read_bytes()).hexdigest() == digest:
        return digest
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=path.parent, prefix="unfinished-", delete=False) as file:
            try:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            except BaseException:
                os.unlink(file.name)
                raise
        os.replace(file.name, path)
        _sync(path.parent)
    except OSError as error:
        what = f"the essay cannot be kept there ({error.strerror}). Make room, or check the folder's permissions."
        raise RecordsError(f"{folder}: {what}") from error
    return digest


def path_of(folder: Path, digest: str, file_name: str) -> Path:
    """Where a file stands: two letters of its hash, the hash, and its ending, so that programs can open it."""
    ending = ENDING.search(file_name)
    return folder / digest[:2] / f"{digest}{ending[0].lower() if ending else ''}"


def content_of(folder: Path, digest: str, file_name: str) -> bytes:
    """A file as handed in.

    Raises RecordsError where it is gone or was changed.
    """
    path = path_of(folder, digest, file_name)
    try:
        content = path.read_bytes()
    except OSError as error:
        raise RecordsError(f"{path}: the essay {file_name} is not there any more. Run: rubric-kit check.") from error
    if sha256(content).hexdigest() != digest:
        raise RecordsError(f"{path}: the essay {file_name} was changed since it was handed in. Run: rubric-kit check.")
    return content


def _sync(folder: Path) -> None:
    """The folder's list of names must reach the disk too; on Windows it does by itself."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
