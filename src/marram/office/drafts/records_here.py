"""Tables of a folder from which a trial may be reported: known by name, and never by a path."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from marram.core.errors import DataError
from marram.rulebook.values import nearest_names

_ENDINGS, _DEPTH, _MOST = (".csv", ".xlsx", ".json"), 2, 300


def tables_here(root: Path) -> Mapping[str, Path]:
    """Tables and frozen plans of a folder and of the folders in it, by their place below it.

    Args:
        root: The folder of the desk.
    """
    found: dict[str, Path] = {}
    for depth in range(_DEPTH):
        for file in sorted(root.glob("/".join(["*"] * (depth + 1)))):
            if file.suffix.lower() in _ENDINGS and not file.name.startswith(".") and file.is_file() and len(found) < _MOST:
                found[file.relative_to(root).as_posix()] = file
    return found


def table_named(tables: Mapping[str, Path], name: str, *, field: str) -> Path:
    """The table behind a name.

    Args:
        tables: The tables of the folder.
        name: The name that was chosen.
        field: The field in which it was chosen, for the error.

    Raises:
        DataError: There is none.
    """
    if name in tables:
        return tables[name]
    near = nearest_names(name, list(tables))
    raise DataError(
        f"There is no table {name[:80]!r} in this folder.",
        where=field,
        hint=f"Nearest: {', '.join(near)}." if near else "Choose one of the list.",
    )


def likely_table(tables: Mapping[str, Path], word: str) -> str:
    """The table whose name speaks of a word, such as *days*; empty where none does."""
    return next((name for name in tables if word in Path(name).stem.lower() and not name.endswith(".json")), "")
