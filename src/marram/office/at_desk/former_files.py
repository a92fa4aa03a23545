"""What files of the desk's folder held before they were changed at the desk, so that the last change can be taken back."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from marram.core.errors import DataError
from marram.office.at_desk.desk_folder import DeskFolder, Holding
from marram.office.at_desk.keep_in_folder import ChangedMeanwhile, KeptText, kept_text, remove_text, save_text, stamped
from marram.office.whole_file import folder_at, write_whole

_FORMER = ".marram-former"
"""A folder in the desk's own; what begins with a dot is none of its courses and days."""
_MOST_KEPT = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A change that was made at the desk.

    Attributes:
        at: When, by the clock of this machine.
        told: What was done, in a sentence.
        after: Stamp of the file after it.
        former: What the file held before; empty where there was none.
        kept_in: The file that keeps the step.
    """

    at: datetime
    told: str
    after: str
    former: str
    kept_in: Path


def change_text(folder: DeskFolder, kind: Holding, name: str, text: str, *, was: str, told: str) -> KeptText:
    """Save a file of the folder, and keep what it held.

    Args:
        folder: The folder.
        kind: What the file holds.
        name: Its name.
        text: What it is to hold.
        was: The stamp of the file that the page was made from; empty for a file that is not to be there yet.
        told: What is done, in a sentence.

    Raises:
        DataError: The file cannot be written.
        ChangedMeanwhile: Something else stands there than what the page was made from.
    """
    now = datetime.now().astimezone()
    former = kept_text(folder, kind, name) if name in folder.names(kind) else KeptText()
    if former.stamp != was:
        raise ChangedMeanwhile(kind, name, former.text)
    place = folder_at(_place(folder, kind, name))
    step = place / f"{now.astimezone(UTC):%Y%m%dT%H%M%S%f}.json"
    # Kept first: a desk that is stopped in between leaves a step whose stamp fits nothing, and no change without its step.
    write_whole(step, json.dumps({"at": now.isoformat(), "told": told, "after": stamped(text).stamp, "former": former.text}))
    try:
        saved = save_text(folder, kind, name, text, was=was)
    except BaseException:
        step.unlink(missing_ok=True)
        raise
    for old in sorted(place.glob("*.json"))[:-_MOST_KEPT]:
        old.unlink(missing_ok=True)
    return saved


def steps_of(folder: DeskFolder, kind: Holding, name: str) -> tuple[Step, ...]:
    """The changes that were made to a file at the desk, the last one first.

    Args:
        folder: The folder.
        kind: What the file holds.
        name: Its name.
    """
    files = sorted(_place(folder, kind, name).glob("*.json"), reverse=True)
    return tuple(step for file in files if (step := _read(file)) is not None)


def take_back(folder: DeskFolder, kind: Holding, name: str, *, was: str) -> Step:
    """Take the last change of a file back: it holds again what it held before.

    Args:
        folder: The folder.
        kind: What the file holds.
        name: Its name.
        was: The stamp of the file that the page was made from.

    Raises:
        DataError: There is nothing to be taken back, or the file cannot be written.
        ChangedMeanwhile: Something else stands there than what the page was made from.
    """
    step = next(iter(steps_of(folder, kind, name)), None)
    if step is None or step.after != was:
        hint = "Only what was changed at the desk, and by nobody since, can be taken back there."
        raise DataError(f"There is no change of the {kind} {name!r} to take back.", where=str(kind), hint=hint)
    if step.former:
        save_text(folder, kind, name, step.former, was=was)
    else:
        remove_text(folder, kind, name, was=was)
    step.kept_in.unlink(missing_ok=True)
    return step


def _place(folder: DeskFolder, kind: Holding, name: str) -> Path:
    """Where the steps of a file are kept: a name of a file may hold any sign, so that of the folder is made of its letters' sum."""
    return folder.root / _FORMER / f"{kind}-{hashlib.sha256(name.encode()).hexdigest()[:16]}"


def _read(file: Path) -> Step | None:
    """A step; None where somebody has spoilt it, which takes nothing but the way back."""
    try:
        told = json.loads(file.read_bytes())
        at = datetime.fromisoformat(told["at"])
        return Step(at=at, told=str(told["told"]), after=str(told["after"]), former=str(told["former"]), kept_in=file)
    except (OSError, ValueError, KeyError, TypeError):
        return None
