"""Options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

F = TypeVar("F", bound=Callable[..., object])

json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON object and nothing else.")
books_option = click.option(
    "--book",
    "books",
    multiple=True,
    metavar="BOOK",
    help="An edition, or an edition with overlays such as 2023+trial.toml; may be repeated.",
)
LATEST = "2023"


def write_whole(path: Path, content: str | bytes) -> None:
    """Write a file so that it is there whole or not at all."""
    from marram.core.errors import DataError

    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(content.encode() if isinstance(content, str) else content)
        beside.replace(path)
    except OSError as problem:
        beside.unlink(missing_ok=True)
        raise DataError(f"The file cannot be written: {problem.strerror}.", where=path.name) from None


def folder_at(path: Path) -> Path:
    """A folder to write to, made if it is not there."""
    from marram.core.errors import DataError

    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise DataError(f"The folder cannot be made: {problem.strerror}.", where=path.name) from None
    return path
