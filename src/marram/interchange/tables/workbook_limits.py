"""What a workbook may hold before it is opened: counted in its parts, so that no small file fills a machine or is read without end."""

from __future__ import annotations

import re
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from xml.parsers import expat

LARGEST_BYTES = 16 * 1024 * 1024
LARGEST_UNPACKED_BYTES = 64 * 1024 * 1024
"""A workbook is a zip file: a small one may unpack to more than a machine holds."""
MOST_CELLS = 300_000
"""Cells of a sheet, empty ones too up to the last row and column that hold something (our own limit; a season has some ten thousand)."""
_HELD = frozenset({"v", "f", "is"})
"""What a cell holds: a value, a formula, a text of its own."""
_MOST_PARTS = 400_000
_MOST_STYLES = 60_000
_DEEPEST = 60
_ADDRESS = re.compile(r"\$?([A-Z]{1,3})\$?(\d{1,7})")


class UnfitError(Exception):
    """The workbook is not opened; the words say why, and what to do."""

    def __init__(self, message: str, hint: str = "") -> None:
        """Take what is wrong, and what to do where that is more than to save the file anew."""
        super().__init__(message)
        self.message = message
        self.hint = hint or "Save it anew as .xlsx from a spreadsheet program."


@dataclass(slots=True)
class _Sheet:
    """What has been counted in one part of the file."""

    name: str
    rows: int = 0
    columns: int = 0
    row: int = 0
    column: int = 0
    parts: int = 0
    depth: int = 0
    deepest: int = 0
    strings: int = 0
    has_formulas: bool = False
    merged: list[str] = field(default_factory=list)

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        """Count an element."""
        self.parts, self.depth = self.parts + 1, self.depth + 1
        kind = tag.rpartition(" ")[2]
        if kind == "row":
            self.row, self.column = _whole(attributes.get("r"), self.row + 1), 0
        elif kind == "c":
            self._reach(attributes.get("r", ""))
        elif kind in _HELD:
            self.rows, self.columns = max(self.rows, self.row), max(self.columns, self.column)
        elif kind == "mergeCell":
            self.merged.append(attributes.get("ref", ""))
        elif kind in {"si", "t", "r"}:
            self.strings += 1
        self.has_formulas = self.has_formulas or kind == "f"
        if self.depth > _DEEPEST or self.parts > _MOST_PARTS:
            raise UnfitError(f"Its part {self.name} is nested {self.depth} deep and has more than {self.parts - 1:,} elements.")
        if self.rows * self.columns > MOST_CELLS or self.parts - self.strings > _MOST_STYLES and not self.rows:
            self.refuse()

    def end(self, tag: str) -> None:
        """Leave an element."""
        self.depth -= 1

    def _reach(self, address: str) -> None:
        """Come to a cell. It counts once it holds something: one that is only coloured, at the last row, makes no sheet large."""
        found = _ADDRESS.fullmatch(address)
        if address and found is None:
            raise UnfitError(f"There is no cell {address[:20]!r}.")
        self.column = self.column + 1 if found is None else _column(found[1])
        if found is not None and int(found[2]) != self.row:
            raise UnfitError(f"The workbook is damaged: row {self.row} holds the cell {address}.")

    def refuse(self) -> None:
        """Say that there is too much of it."""
        if not self.rows:
            raise UnfitError(f"Its part {self.name} has more than {_MOST_STYLES:,} entries.")
        raise UnfitError(
            f"A sheet ({self.name}) runs over {self.rows:,} rows and {self.columns:,} columns, which is more than {MOST_CELLS:,} cells.",
            "Delete the empty rows and columns beyond the table, and save the file again.",
        )

    def refuse_wide_merges(self) -> None:
        """Merged cells are opened one by one: those that cover more than a sheet may hold are refused."""
        for cells in self.merged:
            ends = [_ADDRESS.fullmatch(end) for end in cells.split(":")]
            places = [(_column(end[1]), int(end[2])) for end in ends if end is not None]
            if len(places) != len(ends) or len(places) != 2:
                raise UnfitError(f"Merged cells are given as {cells[:40]!r}.")
            (first, top), (last, bottom) = places
            if (last - first + 1) * (bottom - top + 1) > MOST_CELLS:
                raise UnfitError(f"The cells {cells} are merged.", "Unmerge them, delete what is empty, and save the file again.")


def _column(letters: str) -> int:
    """The number of a column: A is 1, AA is 27."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def _whole(text: str | None, otherwise: int) -> int:
    if text is None:
        return otherwise
    if not (text.isascii() and text.isdigit() and 1 <= len(text) <= 7 and int(text)):
        raise UnfitError(f"There is no row {text[:20]!r}.")
    return int(text)


def look_through(path: Path) -> bool:
    """See that a workbook may be opened.

    Args:
        path: The file.

    Returns:
        Whether a sheet holds formulas.

    Raises:
        UnfitError: It holds too much, or is damaged.
        OSError: It cannot be read.
    """
    if path.stat().st_size > LARGEST_BYTES:
        raise UnfitError(f"The file is larger than {LARGEST_BYTES / 1024 / 1024:g} MB.", "Keep what is to be read in a smaller one.")
    try:
        with zipfile.ZipFile(path) as packed:
            unpacked_bytes = sum(entry.file_size for entry in packed.infolist())
            if unpacked_bytes > LARGEST_UNPACKED_BYTES:
                raise UnfitError(f"The workbook unpacks to {unpacked_bytes / 1024 / 1024:.0f} MB.")
            names = dict.fromkeys(name for name in packed.namelist() if name.endswith((".xml", ".rels")))
            return sum(_look_at(packed, name) for name in names) > 0
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, ValueError, EOFError, zlib.error):
        raise UnfitError("This is no workbook (XLSX), or it is damaged or locked by a password.") from None


def _look_at(packed: zipfile.ZipFile, name: str) -> bool:
    """Count one part; whether it holds formulas."""
    sheet = _Sheet(name)
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler, parser.EndElementHandler = sheet.start, sheet.end
    parser.StartDoctypeDeclHandler = _refuse_declarations
    with packed.open(name) as part:
        try:
            while block := part.read(65_536):
                parser.Parse(block)
            parser.Parse(b"", True)
        except expat.ExpatError as problem:
            raise UnfitError(f"The workbook is damaged: {name}, line {problem.lineno}, cannot be read.") from None
    sheet.refuse_wide_merges()
    return sheet.has_formulas


def _refuse_declarations(*declared: object) -> None:
    """No spreadsheet program writes declarations of a document type, by which a few bytes can stand for gigabytes."""
    raise UnfitError("The workbook is damaged: it declares a document type.")
