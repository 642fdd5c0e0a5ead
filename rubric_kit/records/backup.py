"""The whole folder in one zip with the hash of every file in it, and back again."""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path

from rubric_kit.errors import RecordsError
from rubric_kit.records.family import ABOUT, ORIGINALS, RECORDS, Family, begin, open_family
from rubric_kit.records.migrations import copy_to

HASHES = "hashes.sha256"  # as `sha256sum --check` reads it
PIECE = 1 << 20  # bytes copied at a time
LARGEST = 1 << 36  # 64 GB unpacked: more than any family's essays, less than what would fill a disk by a trick


def backup(family: Family, path: Path) -> int:
    """Write everything to one zip; how many files are in it. It is whole even while another program writes.

    Raises RecordsError where it cannot be written, or is there already.
    """
    if path.exists():
        raise RecordsError(f"{path}: there is such a file already. Choose another name.")
    with _in_words(path), tempfile.TemporaryDirectory(dir=path.resolve().parent, prefix="unfinished-") as workplace:
        copy = Path(workplace) / RECORDS
        copy_to(family.database.connection, copy)
        # After the records' copy, so that no draft in it can lack its original: those are written before their row.
        files = {RECORDS: copy, ABOUT: family.folder / ABOUT, **_originals(family.folder)}
        unfinished = Path(workplace) / "backup.zip"
        hashes = []
        with zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, file in files.items():
                if file.is_file():
                    archive.write(file, name)
                    hashes.append(f"{_digest(file)}  {name}\n")
            archive.writestr(HASHES, "".join(hashes))
        os.replace(unfinished, path)
    return len(hashes)


def restore(path: Path, folder: Path) -> Family:
    """Unpack a backup into a folder that is empty or not there yet, after every file's hash was checked, and open it.

    Raises RecordsError where the backup is damaged or the folder holds something; then nothing is left there.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise RecordsError(f"{folder}: there is something in it already. Restore into a new folder.")
    if not path.is_file():
        raise RecordsError(f"{path}: there is no such file. Check the name and the folder.")
    with _in_words(folder):
        folder.resolve().parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=folder.resolve().parent, prefix="unfinished-") as workplace:
            unpacked = Path(workplace) / "family"
            _unpack(path, unpacked)
            open_family(unpacked).close()  # a damaged database is found before anything takes its place
            if folder.exists():
                folder.rmdir()
            shutil.move(unpacked, folder)
    return begin(folder)


def _unpack(path: Path, to: Path) -> None:
    try:
        with zipfile.ZipFile(path) as archive:
            hashes = dict(_read_hashes(archive, path))
            if RECORDS not in hashes or sorted([*hashes, HASHES]) != sorted(archive.namelist()):
                raise RecordsError(f"{path}: not a whole backup of rubric_kit. Choose another backup.")
            if sum(info.file_size for info in archive.infolist()) > LARGEST:
                raise RecordsError(f"{path}: too large for a backup of rubric_kit. Choose another backup.")
            for name, digest in hashes.items():
                target = to / name
                if not target.resolve().is_relative_to(to.resolve()):
                    raise RecordsError(f"{path}: it holds a file that would land elsewhere ({name!r}). Do not use it.")
                target.parent.mkdir(parents=True, exist_ok=True)
                with archive.open(name) as source, target.open("wb") as file:
                    shutil.copyfileobj(source, file, PIECE)
                if _digest(target) != digest:
                    raise RecordsError(f"{path}: {name} in it is damaged. Choose another backup.")
    except (zipfile.BadZipFile, EOFError, NotImplementedError, UnicodeError, ValueError, RuntimeError) as error:
        raise RecordsError(f"{path}: not a backup, or it is damaged ({error}). Choose another backup.") from error


def _read_hashes(archive: zipfile.ZipFile, path: Path) -> Iterator[tuple[str, str]]:
    if HASHES not in archive.namelist():
        raise RecordsError(f"{path}: not a backup of rubric_kit. Choose another file.")
    for line in archive.read(HASHES).decode("utf-8").splitlines():
        digest, _, name = line.partition("  ")
        yield name, digest


def _originals(folder: Path) -> dict[str, Path]:
    every = sorted(p for p in (folder / ORIGINALS).rglob("*") if p.is_file() and not p.name.startswith("unfinished-"))
    return {p.relative_to(folder).as_posix(): p for p in every}


def _digest(path: Path) -> str:
    digest = sha256()
    with path.open("rb") as file:
        while piece := file.read(PIECE):
            digest.update(piece)
    return digest.hexdigest()


@contextmanager
def _in_words(path: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, sqlite3.Error) as error:
        what = f"it cannot be read or written ({getattr(error, 'strerror', None) or error})"
        raise RecordsError(f"{path}: {what}. Check the name, the permissions and the room on the disk.") from error
