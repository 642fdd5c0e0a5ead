"""Essays in a Parquet file, read a few rows at a time."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from rubric_kit.batching.csv_rows import digest, not_opened, places, row_of
from rubric_kit.batching.rows import BatchError, Row, Source

AT_ONCE = 200  # rows
BUFFER = 1_000_000  # bytes read at once of each column, rather than all of a row group
INSTALL = "Parquet needs the library pyarrow. Run: pip install 'rubric-kit[batch]', or use a .csv file"


def parquet_source(path: Path) -> Source:
    """A Parquet file with the columns of ``csv_source``. Raises BatchError where it is none, or lacks them."""
    return Source(lambda: digest(path), lambda: _count(path), lambda: _rows(path))


def pyarrow() -> Any:
    """The library, where there is one. Raises BatchError with the command that installs it."""
    try:
        import pyarrow.parquet
    except ImportError as error:
        raise BatchError(f"{INSTALL}.") from error
    return pyarrow


def _count(path: Path) -> int:
    with _opened(path) as file:
        _columns(file, path)
        return int(file.metadata.num_rows)


@contextmanager
def _opened(path: Path) -> Iterator[Any]:
    arrow = pyarrow()
    try:
        with arrow.parquet.ParquetFile(path, buffer_size=BUFFER, pre_buffer=False) as file:
            yield file
    except arrow.ArrowException as error:
        raise BatchError(f"{path}: this is no Parquet file, or it is damaged. Export the table anew.") from error
    except OSError as error:
        if error.strerror is None:  # what is wrong inside the file, which the library calls an error of reading
            raise BatchError(f"{path}: this Parquet file is damaged. Export the table anew.") from error
        raise not_opened(path, error) from error


def _rows(path: Path) -> Iterator[Row]:
    with _opened(path) as file:
        columns = _columns(file, path)
        number = 0
        for batch in file.iter_batches(batch_size=AT_ONCE, columns=list(columns.values())):
            for place in range(batch.num_rows):
                number += 1
                yield _row(number, {name: batch.column(column)[place] for name, column in columns.items()})


def _columns(file: Any, path: Path) -> dict[str, str]:
    """The names in the file of the columns that are taken."""
    schema, types = file.schema_arrow, pyarrow().types
    columns = {name: schema.names[place] for name, place in places(schema.names, path).items()}
    kind = schema.field(columns["text"]).type
    of = kind.value_type if types.is_dictionary(kind) else kind
    if not (types.is_string(of) or types.is_large_string(of)):
        raise BatchError(f"{path}: the column text holds {kind}, not text. Put the essays there.")
    return columns


def _row(number: int, cells: dict[str, Any]) -> Row:
    found = dict.fromkeys(cells, "")
    for name, cell in cells.items():
        try:
            value = cell.as_py()
        except UnicodeDecodeError:
            return Row(number, found["id"], wrong=f"its {name} is not UTF-8. Export the table anew in UTF-8")
        found[name] = "" if value is None else str(value)
    return row_of(number, found)
