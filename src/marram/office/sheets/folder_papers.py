"""What a folder holds besides courses, trials and days that papers are printed from: plans, records, exercises, the store of events."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from marram.core.errors import DataError
from marram.office.at_desk.desk_folder import DeskFolder, folder_files
from marram.rulebook.values import nearest_names

T = TypeVar("T")
STORE = "marram.sqlite"
"""The store of events that stands beside the desk."""
_LARGEST_BYTES = 4 * 1024 * 1024
_PLAN = "marram.trial-plan/"
_DAYS, _VALUES, _ASKED = "days.csv", "values.csv", "asked.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """The records of a trial's days.

    Attributes:
        days: The table of days.
        values: The table of values.
        asked: The table of who was asked for answers; None where there is none.
    """

    days: Path
    values: Path
    asked: Path | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FolderPapers:
    """What papers are printed from, by name.

    Attributes:
        plans: Frozen plans of trials.
        seasons: Records of trials, by the folder in which they stand.
        incidents: Written incidents of clarity exercises.
        tasks: Tasks of stations.
        store: The store of events; None where there is none.
    """

    plans: Mapping[str, Path] = field(default_factory=dict)
    seasons: Mapping[str, Season] = field(default_factory=dict)
    incidents: Mapping[str, Path] = field(default_factory=dict)
    tasks: Mapping[str, Path] = field(default_factory=dict)
    store: Path | None = None


def folder_papers(folder: DeskFolder) -> FolderPapers:
    """List what a folder holds that papers are printed from; of two of one name the nearer is taken.

    Args:
        folder: The folder of the desk.
    """
    plans: dict[str, Path] = {}
    incidents: dict[str, Path] = {}
    tasks: dict[str, Path] = {}
    seasons: dict[str, Season] = {}
    store = None
    for file in folder_files(folder.root):
        if file.suffix == ".json" and _is_plan(file):
            plans.setdefault(file.stem, file)
        elif file.suffix == ".toml":
            kind = _exercise(file)
            if kind:
                (incidents if kind == "incident" else tasks).setdefault(file.stem, file)
        elif file.name == _DAYS and (file.parent / _VALUES).is_file():
            asked = file.parent / _ASKED
            season = Season(days=file, values=file.parent / _VALUES, asked=asked if asked.is_file() else None)
            seasons.setdefault(file.parent.name if file.parent != folder.root else "days", season)
        elif file.name == STORE and file.parent == folder.root:
            store = file
    return FolderPapers(plans=plans, seasons=seasons, incidents=incidents, tasks=tasks, store=store)


def named(found: Mapping[str, T], name: str, what: str) -> T:
    """What stands under a name; the only one where none is named.

    Args:
        found: What there is.
        name: The name; empty for the only one.
        what: What it is, for errors.

    Raises:
        DataError: There is none of that name, or several and none is named.
    """
    if name in found:
        return found[name]
    if not name and len(found) == 1:
        return next(iter(found.values()))
    names: Sequence[str] = tuple(found)
    near = nearest_names(name, names) if name else []
    hint = f"Nearest: {', '.join(near)}." if near else f"There are: {', '.join(names)}." if names else f"There is no {what} at all."
    raise DataError(f"There is no {what} {name[:60]!r}." if name else f"Name the {what}.", where=what, hint=hint)


def _is_plan(file: Path) -> bool:
    text = _text(file)
    if _PLAN not in text:
        return False
    try:
        read = json.loads(text)
    except ValueError:
        return False
    return isinstance(read, dict) and str(read.get("schema", "")).startswith(_PLAN)


def _exercise(file: Path) -> str:
    """Which exercise a file is for: ``incident`` or ``task``; empty for none."""
    try:
        read = tomllib.loads(_text(file))
    except ValueError:
        return ""
    for kind, member in (("incident", "answers"), ("task", "change")):
        if any(isinstance(entry, dict) and {"name", "text", member} <= entry.keys() for entry in _listed(read.get(kind))):
            return kind
    return ""


def _listed(value: object) -> Iterator[object]:
    yield from value if isinstance(value, list) else ()


def _text(file: Path) -> str:
    try:
        return "" if file.stat().st_size > _LARGEST_BYTES else file.read_text(encoding="utf-8-sig")
    except (OSError, ValueError):
        return ""
