"""Files that the desk writes into its folder: under a name and never at a path, whole, and never over what another wrote meanwhile."""

from __future__ import annotations

import hashlib
import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from marram.core.errors import DataError
from marram.office.at_desk.desk_folder import DeskFolder, Holding, read_folder
from marram.office.whole_file import write_whole

_NAME = re.compile(r"[a-z0-9](?:[a-z0-9-]{0,58}[a-z0-9])?")
_ENDINGS = {Holding.COURSE: ".geojson"}
_TOML = ".toml"


class ChangedMeanwhile(DataError):
    """A file is not any more what a page was made from.

    Attributes:
        present: The text that stands there now.
    """

    def __init__(self, kind: Holding, name: str, present: str) -> None:
        super().__init__(
            f"The {kind} {name!r} was changed meanwhile, by another page or by hand.",
            where=str(kind),
            hint="Nothing was written over. Look at what stands there now, then save yours again or under another name.",
        )
        self.present = present


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptText:
    """A file of the folder as a page is made from it.

    Attributes:
        text: What stands in it; empty where there is none yet.
        stamp: What the page hands back when it saves, so that nothing newer is written over; empty where there is none yet.
    """

    text: str = ""
    stamp: str = ""


def kept_text(folder: DeskFolder, kind: Holding, name: str) -> KeptText:
    """Read a file of the folder for a page that may save it.

    Args:
        folder: The folder.
        kind: What it holds.
        name: Its name.

    Raises:
        DataError: There is none, or it cannot be read.
    """
    return _read(folder.file(kind, name), kind)


def save_text(folder: DeskFolder, kind: Holding, name: str, text: str, *, was: str = "") -> KeptText:
    """Save a file of the folder.

    Args:
        folder: The folder.
        kind: What it holds.
        name: Its name; that of a new file is of small letters, digits and hyphens.
        text: What it is to hold.
        was: The stamp of the file that the page was made from; empty for a file that is not to be there yet.

    Raises:
        DataError: The name cannot be used, or the file cannot be written.
        ChangedMeanwhile: Something else stands there than what the page was made from.
    """
    with _alone_in(folder.root):
        write_whole(_place_as_it_was(folder, kind, name, was), text)
    return stamped(text)


def remove_text(folder: DeskFolder, kind: Holding, name: str, *, was: str) -> None:
    """Take a file out of the folder.

    Args:
        folder: The folder.
        kind: What it holds.
        name: Its name.
        was: The stamp of the file that the page was made from.

    Raises:
        DataError: The name cannot be used, or the file cannot be taken out.
        ChangedMeanwhile: Something else stands there than what the page was made from.
    """
    with _alone_in(folder.root):
        place = _place_as_it_was(folder, kind, name, was)
        try:
            place.unlink(missing_ok=True)
        except OSError as problem:
            hint = "It is as it was. See whether the folder may be written to."
            raise DataError(f"The {kind} {name!r} cannot be taken out: {problem.strerror}.", where=str(kind), hint=hint) from None


def _place_as_it_was(folder: DeskFolder, kind: Holding, name: str, was: str) -> Path:
    """Where a file is written to, seen to be still what the page was made from; a new one has a name that any machine takes."""
    known = read_folder(folder.root).files[kind].get(name)
    place = known or folder.root / f"{checked_name(name)}{_ENDINGS.get(kind, _TOML)}"
    present = _read(place, kind) if place.exists() else KeptText()
    if present.stamp != was:
        raise ChangedMeanwhile(kind, name, present.text)
    return place


def free_name(folder: DeskFolder, kind: Holding, title: str) -> str:
    """A name for a new file, made from its title, that no file of the folder has.

    Args:
        folder: The folder.
        kind: What it holds.
        title: Its title, in any script.
    """
    plain = re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")[:50].strip("-") or str(kind)
    tried, number = plain, 1
    while tried in folder.files[kind] or (folder.root / f"{tried}{_ENDINGS.get(kind, _TOML)}").exists():
        number += 1
        tried = f"{plain}-{number}"
    return tried


def checked_name(name: str) -> str:
    """The name, where a file may have it.

    Raises:
        DataError: It may not.
    """
    if not _NAME.fullmatch(name):
        raise DataError(
            f"{name[:60]!r} cannot name a file.", where="name", hint="Up to 60 small letters, digits and hyphens, such as autumn-day-2."
        )
    return name


def _read(place: Path, kind: Holding) -> KeptText:
    try:
        return stamped(place.read_bytes().decode("utf-8-sig"))
    except (OSError, UnicodeDecodeError):
        hint = "Save it anew as UTF-8, or put it elsewhere."
        raise DataError(f"The {kind} {place.stem!r} cannot be read.", where=str(kind), hint=hint) from None


def stamped(text: str) -> KeptText:
    """A text with the stamp that it has as a file.

    Args:
        text: The text.
    """
    return KeptText(text=text, stamp=hashlib.sha256(text.encode()).hexdigest()[:16])


@contextmanager
def _alone_in(root: Path) -> Iterator[None]:
    """Look and write as one step, as far as other processes of desks are concerned."""
    if sys.platform == "win32":  # a folder cannot be held there; one desk on a folder is what is usual
        yield
        return
    import fcntl

    handle = os.open(root, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)
