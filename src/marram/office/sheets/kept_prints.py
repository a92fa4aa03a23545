"""Prints that are kept while the desk runs: each under what it was made from, with pictures of its pages, and how far one is being made."""

from __future__ import annotations

import hashlib
import json
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path

from marram import __version__
from marram.core.work import Work
from marram.office.at_desk.desk_folder import folder_state
from marram.office.sheets.every_print import Print
from marram.office.sheets.print_makers import PDF
from marram.office.sheets.printed_from import PrintAsked

_MOST_KEPT = 40
"""So many prints are kept; those made longest ago go first."""
_EVERY_S = 0.2
_PIXELS_PER_INCH = 110.0
"""Of the pictures: A4 is 910 wide, more than any page shows it."""
_PAPER, _FAR = "paper", "how-far.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class HowFar:
    """How far a print is being made.

    Attributes:
        doing: What is being done; empty where nothing was begun.
        done: How much of it is done.
        whole: How much of it there is; 0 where that is not known.
    """

    doing: str = ""
    done: int = 0
    whole: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptPrint:
    """A print that was made.

    Attributes:
        place: Where it is kept.
        pages: How many pages it has; 0 for a page of the screen.
    """

    place: Path
    pages: int

    @property
    def data(self) -> bytes:
        """The paper, or the page."""
        return (self.place / _PAPER).read_bytes()

    def picture(self, page: int) -> bytes:
        """The picture of a page, the first being 1; empty where it has no such page."""
        return (self.place / f"{page}.png").read_bytes() if 1 <= page <= self.pages else b""


class KeptPrints:
    """The prints that are kept in a place of this machine, for all processes of a desk."""

    def __init__(self, place: Path) -> None:
        """Keep prints in a place.

        Args:
            place: A folder of the desk's own.
        """
        self._place = place

    def find(self, one: Print, asked: PrintAsked) -> KeptPrint | None:
        """The print as it was made from exactly this; None where it was not."""
        place = self._place / _key(one, asked)
        if not (place / _PAPER).is_file():
            return None
        return KeptPrint(place=place, pages=len(list(place.glob("*.png"))))

    def how_far(self, one: Print, asked: PrintAsked) -> HowFar:
        """How far a print is being made."""
        with suppress(OSError, ValueError, TypeError):
            return HowFar(**json.loads((self._place / f"{_key(one, asked)}.{_FAR}").read_text(encoding="utf-8")))
        return HowFar()

    def make(self, one: Print, asked: PrintAsked) -> KeptPrint:
        """Make a print and keep it, with pictures of its pages.

        Args:
            one: The print.
            asked: What it is made from.

        Raises:
            MarramError: It cannot be made.
        """
        from marram.sheets.scene.typesetting import keeping_pictures

        key = _key(one, asked)
        with self._telling(key) as work, keeping_pictures(_PIXELS_PER_INCH) as pictures:
            made = one.make(replace(asked, work=work))
        partly, whole = self._place / f"{key}.partly", self._place / key
        shutil.rmtree(partly, ignore_errors=True)
        partly.mkdir(parents=True)
        (partly / _PAPER).write_bytes(made.encode() if isinstance(made, str) else made)
        for number, picture in enumerate(pictures if one.form == PDF else (), start=1):
            (partly / f"{number}.png").write_bytes(picture)
        if not whole.exists():
            partly.rename(whole)
        self._let_go()
        return KeptPrint(place=whole, pages=len(list(whole.glob("*.png"))))

    @contextmanager
    def _telling(self, key: str) -> Iterator[Work]:
        """Work that writes down how far it is, not more often than somebody looks."""
        self._place.mkdir(parents=True, exist_ok=True)
        file, last = self._place / f"{key}.{_FAR}", 0.0

        def tell(doing: str, done: int, whole: int) -> None:
            nonlocal last
            now = time.monotonic()
            if not self._place.is_dir():
                work.stop()  # the desk was closed
            elif now - last >= _EVERY_S:
                last = now
                file.write_text(json.dumps({"doing": doing, "done": done, "whole": whole}), encoding="utf-8")

        work = Work(tell)
        work.tell("setting the sheet")
        last = 0.0
        try:
            yield work
        finally:
            file.unlink(missing_ok=True)

    def _let_go(self) -> None:
        kept = sorted((place for place in self._place.iterdir() if (place / _PAPER).is_file()), key=lambda place: place.stat().st_mtime)
        for place in kept[:-_MOST_KEPT]:
            shutil.rmtree(place, ignore_errors=True)


def _key(one: Print, asked: PrintAsked) -> str:
    """What a print is kept under: everything that it is made from, the state of the folder's files among it."""
    case = None if asked.case is None else (asked.case.course, asked.case.day, asked.case.books, asked.case.incident)
    stated = (
        __version__,
        one.name,
        folder_state(asked.folder.root),
        asked.books,
        asked.course,
        asked.day,
        asked.trial,
        case if case and any(need.value == "case" for need in one.needs) else None,
        sorted(asked.names.items()),
        sorted(asked.fields.items()),
    )
    return hashlib.sha256(repr(stated).encode()).hexdigest()[:32]
