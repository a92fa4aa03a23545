"""The folder of a desk: its courses, trials, days and incidents, each known by a name and never by a path."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from marram.core.errors import DataError
from marram.rulebook.values import nearest_names

_DEPTH = 2
"""Files lie in the folder itself, or in a folder of it."""
_MOST_FILES = 2_000
_LARGEST_BYTES = 1024 * 1024


class Holding(StrEnum):
    """What a file of the folder holds."""

    COURSE = "course"
    TRIAL = "trial"
    DAY = "day"
    INCIDENT = "incident"


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskFolder:
    """What a folder holds, by name.

    Attributes:
        root: The folder itself; it never leaves this machine.
        files: For each kind, the file behind each name, in order of name.
        hidden: Files that another one of the same name hides.
    """

    root: Path
    files: Mapping[Holding, Mapping[str, Path]]
    hidden: tuple[str, ...] = ()

    def names(self, kind: Holding) -> tuple[str, ...]:
        """The names of a kind."""
        return tuple(self.files[kind])

    def file(self, kind: Holding, name: str) -> Path:
        """The file behind a name.

        Raises:
            DataError: There is none.
        """
        found = self.files[kind].get(name)
        if found is None:
            raise DataError(f"There is no {kind} {name!r} in this folder.", where=str(kind), hint=_known(name, kind, self.names(kind)))
        return found

    def book_asked(self, book: str, local_rules: Sequence[str]) -> str:
        """A rule book as the workroom opens it: overlays are local rules that come with Marram, or trials of the folder.

        Args:
            book: An edition, or an edition with overlays, each by its name.
            local_rules: Names of the local rules that come with Marram.

        Raises:
            DataError: An overlay is neither.
        """
        edition, *overlays = book.split("+")
        return "+".join([edition, *(name if name in local_rules else str(self.file(Holding.TRIAL, name)) for name in overlays)])


def read_folder(folder: Path) -> DeskFolder:
    """List a folder.

    Args:
        folder: The folder.

    Raises:
        DataError: There is no such folder, or it holds far too much to be one of courses and trials.
    """
    if not folder.is_dir():
        raise DataError("There is no such folder.", where=folder.name, hint="Name a folder that holds course files, such as examples.")
    found: dict[Holding, dict[str, Path]] = {kind: {} for kind in Holding}
    hidden = []
    for file in folder_files(folder):
        kind = _held(file)
        if kind is None:
            continue
        if file.stem in found[kind]:
            hidden.append(file.relative_to(folder).as_posix())
        else:
            found[kind][file.stem] = file
    return DeskFolder(root=folder, files={kind: dict(sorted(files.items())) for kind, files in found.items()}, hidden=tuple(hidden))


def folder_state(folder: Path) -> tuple[tuple[str, int, int], ...]:
    """What tells whether something of a folder has changed: name, time and size of each file.

    Args:
        folder: The folder.

    Raises:
        DataError: It holds far too much to be one of courses and trials.
    """
    found = []
    for file in folder_files(folder):
        with suppress(OSError):  # it has just gone: that it is missing tells as much
            told = file.stat()
            found.append((str(file), told.st_mtime_ns, told.st_size))
    return tuple(found)


def folder_files(folder: Path) -> Iterator[Path]:
    """Files of a folder and of the folders in it, nearest first.

    Args:
        folder: The folder.

    Raises:
        DataError: It holds far too much to be one of courses and trials.
    """
    seen = 0
    for depth in range(_DEPTH):
        for file in sorted(folder.glob("/".join(["*"] * (depth + 1)))):
            seen += 1
            if seen > _MOST_FILES:
                raise DataError(
                    f"The folder holds more than {_MOST_FILES} files.", where=folder.name, hint="Name one of courses and trials."
                )
            if not file.name.startswith(".") and file.is_file():
                yield file


def _held(file: Path) -> Holding | None:
    """What a file holds, told by its ending and, of TOML, by its members; None where it is nothing of the desk's."""
    if file.suffix == ".geojson":
        return Holding.COURSE
    if file.suffix != ".toml":
        return None
    try:
        if file.stat().st_size > _LARGEST_BYTES:
            return None
        members = tomllib.loads(file.read_text(encoding="utf-8-sig")).keys()
    except (OSError, ValueError):
        return None
    if {"change", "row", "on"} & members and "title" in members:
        return Holding.TRIAL
    if {"situation", "ball"} <= members:
        return Holding.INCIDENT
    return Holding.DAY if "date" in members and {"conditions", "hole_locations"} & members else None


def _known(name: str, kind: Holding, names: Sequence[str]) -> str:
    if not names:
        return f"The folder holds no {kind} at all."
    near = nearest_names(name, names)
    return f"Nearest: {', '.join(near)}." if near else f"There are: {', '.join(names)}."
