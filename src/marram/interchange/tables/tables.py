"""Tables that officials keep in CSV files and workbooks, read strictly: named columns, numbered rows, every fault in one pass."""

from __future__ import annotations

import csv
import io
import math
import re
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from marram.core.errors import DataError
from marram.core.words import fault_list, on_one_line, shortened, shortly
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.interchange.tables.workbooks import Cell, Grid, read_workbook

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?")
_SEPARATORS = (";", "\t", ",")
_LOOKED_AT = 20
"""Rows at the top among which the heading is looked for."""
_MOST_SHOWN = 40

Names = Mapping[str, Sequence[str]]
Alternatives = Sequence[Sequence[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a table.

    Attributes:
        number: Its number in the file, from 1, as a spreadsheet shows it.
        cells: What stands under each column that is read; nothing where the cell is empty.
    """

    number: int
    cells: Mapping[str, Cell]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table with a heading.

    Attributes:
        where: File, and the sheet where there are several.
        columns: Columns that were found, by the names asked for.
        not_read: Headings of the other columns.
        rows: Rows that are not empty.
        may_be_comma: Whether a comma in a number is a decimal comma.
    """

    where: str
    columns: frozenset[str]
    not_read: tuple[str, ...]
    rows: tuple[Row, ...]
    may_be_comma: bool


@dataclass(slots=True, kw_only=True)
class Faults:
    """The faults of a file, collected so that all are told at once.

    Attributes:
        where: File, and sheet where there are several.
        error: Error to raise.
        hint: Where it is written what would be right.
    """

    where: str
    error: type[DataError]
    hint: str
    told: list[str] = field(default_factory=list)

    def add(self, place: str, message: str) -> None:
        """Note a fault."""
        self.told.append(f"{place}: {message}")

    def refuse(self) -> None:
        """Stop where there is any fault.

        Raises:
            DataError: With every fault, forty at most in full.
        """
        if not self.told:
            return
        raise self.error(f"There {'are' if len(self.told) > 1 else 'is'} {fault_list(self.told)}", where=self.where, hint=self.hint)


class RowReader:
    """Reads the cells of one row and notes what is wrong with them."""

    def __init__(self, row: Row, faults: Faults, *, may_be_comma: bool) -> None:
        self.row = row
        self.faults = faults
        self.may_be_comma = may_be_comma

    def fault(self, column: str, message: str) -> None:
        """Note a fault of a cell."""
        self.faults.add(f"row {self.row.number}, column {column}", message)

    def text(self, column: str) -> str:
        """The text of a cell; empty where nothing stands."""
        value = self.row.cells.get(column)
        return "" if value is None else on_one_line(_shown(value))

    def number(self, column: str, *, least: float, most: float, unit: str = "") -> float | None:
        """The number in a cell; None where it is empty or, with a fault noted, no such number.

        Args:
            column: The column.
            least: Smallest number that can be meant.
            most: Largest number that can be meant.
            unit: The unit, for the message.
        """
        value = self.row.cells.get(column)
        if value is None:
            return None
        found = _number(value, may_be_comma=self.may_be_comma)
        if found is None:
            hint = "" if self.may_be_comma or "," not in str(value) else " (a decimal comma needs semicolons between the columns)"
            self.fault(column, f"{shortly(_shown(value))} is no number{hint}")
        elif not least <= found <= most:
            self.fault(column, f"{found:g} cannot be; expected {least:g} to {most:g}{' ' * bool(unit)}{unit}")
        else:
            return found
        return None

    def whole(self, column: str, *, least: int, most: int) -> int | None:
        """The whole number in a cell; None where it is empty or, with a fault noted, no such number."""
        found = self.number(column, least=least, most=most)
        if found is not None and found != int(found):
            self.fault(column, f"{found:g} is no whole number")
            return None
        return None if found is None else int(found)


def read_table(path: Path, columns: Names, needed: Alternatives, *, what: str, error: type[DataError], sheet: str = "") -> Table:
    """Read a table from a CSV file or a workbook.

    Args:
        path: A file whose name ends in .csv, .txt, .tsv or .xlsx.
        columns: Names of the columns to read, each with other headings that mean the same; case, spaces and signs do not count.
        needed: Sets of columns of which one must be there whole.
        what: What the file should be, in words, such as ``a table of tees``.
        error: Error to raise.
        sheet: Sheet of a workbook; if empty, the first that holds the needed columns.

    Returns:
        The first table that holds the needed columns. The heading may stand below a title.

    Raises:
        DataError: The file cannot be read, no sheet has the columns, cells of the table are merged or formulas hold no value.
    """
    return _first_table(path, grids_of(path, what=what, error=error), columns, needed, error=error, sheet=sheet)


def find_table(path: Path, columns: Names, needed: Alternatives, *, what: str, error: type[DataError]) -> Table | None:
    """The table that holds the needed columns, or None where the file has none.

    Raises:
        DataError: The file cannot be read, cells of the table are merged or formulas hold no value.
    """
    for grid in grids_of(path, what=what, error=error):
        heading = _heading(grid, columns, needed)
        if heading is not None:
            return _table(path, grid, heading, columns, error)
    return None


def grids_of(path: Path, *, what: str, error: type[DataError]) -> Iterator[Grid]:
    """The sheets of a workbook, or the one sheet of a CSV file, cut anew by another separator each time one is asked for."""
    if path.suffix.lower() in {".xlsx", ".xlsm"}:
        return iter(read_workbook(path, what=what, error=error))
    if path.suffix.lower() in {".xls", ".ods"}:
        raise error(f"A {path.suffix} file cannot be read.", where=path.name, hint="Save it as .xlsx or as CSV (UTF-8).")
    text = read_text(path, what=what, largest_bytes=LARGEST_TEXT_BYTES * 16, error=error)
    return _csv_grids(path, text, what, error)


def _csv_grids(path: Path, text: str, what: str, error: type[DataError]) -> Iterator[Grid]:
    """The sheet as each separator would cut it, the likeliest first: only the heading shows which one was meant."""
    first = next(line for line in text.splitlines() if line.strip())
    problems: list[str] = []
    for separator in sorted(_SEPARATORS, key=first.count, reverse=True):
        try:
            lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True))
        except csv.Error as problem:
            problems.append(str(problem))
            continue
        rows = tuple(tuple(cell.strip() or None for cell in line) for line in lines)
        yield Grid(name="", rows=rows, merged=(), unvalued=(), may_be_comma=separator != ",", is_csv=True)
    if len(problems) == len(_SEPARATORS):
        raise error(f"This is not CSV: {problems[0]}.", where=path.name, hint=f"Expected {what}: one row a line, cells apart by commas.")


def _first_table(
    path: Path, grids: Iterator[Grid], columns: Names, needed: Alternatives, *, error: type[DataError], sheet: str = ""
) -> Table:
    seen = []
    for grid in grids:
        seen.append(grid)
        heading = _heading(grid, columns, needed) if not sheet or grid.name == sheet else None
        if heading is not None:
            return _table(path, grid, heading, columns, error)
    named = [grid for grid in seen if not sheet or grid.name == sheet]
    if not named:
        raise error(f"There is no sheet {sheet!r}.", where=path.name, hint=f"There are: {_listed([grid.name for grid in seen])}.")
    wanted = "; or ".join(", ".join(names) for names in needed)
    held = next((row for grid in named for row in grid.rows if any(cell is not None for cell in row)), ())
    found = _listed(held) or "nothing"
    raise error("No heading has the needed columns.", where=path.name, hint=f"Needed: {wanted}. The first row holds: {found}.")


def _heading(grid: Grid, columns: Names, needed: Alternatives) -> int | None:
    """Index of the row that is the heading."""
    for index, row in enumerate(grid.rows[:_LOOKED_AT]):
        found = set(_names(row, columns).values())
        if any(found.issuperset(names) for names in needed):
            return index
    return None


def _listed(cells: Sequence[Cell]) -> str:
    """Cells in a sentence; of long or many ones the beginning."""
    shown = [shortened(_shown(cell)) for cell in cells if cell is not None]
    return ", ".join(shown[:_MOST_SHOWN]) + ", …" * (len(shown) > _MOST_SHOWN)


def _names(row: Sequence[Cell], columns: Names) -> dict[int, str]:
    """Which column stands where, by the names asked for."""
    meant = {plain(word): name for name, others in columns.items() for word in (name, *others)}
    return {place: meant[plain(_shown(cell))] for place, cell in enumerate(row) if cell is not None and plain(_shown(cell)) in meant}


def plain(heading: str) -> str:
    """A heading without case, spaces and signs: ``Length (m)`` and ``length_m`` are one."""
    return re.sub(r"[\W_]+", "_", heading.casefold()).strip("_")


def _table(path: Path, grid: Grid, heading: int, columns: Names, error: type[DataError]) -> Table:
    where = f"{path.name}, sheet {grid.name}" if grid.name else path.name
    names = _names(grid.rows[heading], columns)
    faults = Faults(where=where, error=error, hint="Correct these cells and read the file again.")
    for name in sorted({name for name in names.values() if list(names.values()).count(name) > 1}):
        faults.add(f"row {heading + 1}", f"two columns mean {name}")
    for cells, last_row in grid.merged:
        if last_row > heading:
            faults.add(f"cells {cells}", "they are merged; unmerge them and fill in each one")
    for cell, row in grid.unvalued:
        if row > heading:
            faults.add(
                f"cell {cell}", "it holds a formula and no value; open and save the file in a spreadsheet program, or type the value"
            )
    width = len(grid.rows[heading])
    for index in range(heading + 1, len(grid.rows)):
        extra = [cell for cell in grid.rows[index][width:] if cell is not None]
        if grid.is_csv and extra:
            comma = "" if grid.may_be_comma else "; a decimal comma needs semicolons between the columns"
            faults.add(f"row {index + 1}", f"it holds {len(grid.rows[index])} cells and the heading {width}{comma}")
    faults.refuse()
    others = tuple(_shown(cell) for place, cell in enumerate(grid.rows[heading]) if cell is not None and place not in names)
    rows = tuple(_rows(grid, heading, names))
    return Table(where=where, columns=frozenset(names.values()), not_read=others, rows=rows, may_be_comma=grid.may_be_comma)


def _rows(grid: Grid, heading: int, names: Mapping[int, str]) -> Iterator[Row]:
    for index in range(heading + 1, len(grid.rows)):
        row = grid.rows[index]
        cells = {name: row[place] for place, name in names.items() if place < len(row) and row[place] is not None}
        if cells:
            yield Row(number=index + 1, cells=cells)


def _number(value: Cell, *, may_be_comma: bool) -> float | None:
    if isinstance(value, bool) or value is None:
        return None
    if isinstance(value, int | float):
        return float(value) if abs(value) <= sys.float_info.max else math.inf
    text = value.replace("\N{MINUS SIGN}", "-").strip()
    if may_be_comma and text.count(",") == 1 and "." not in text:
        text = text.replace(",", ".")
    return float(text) if _NUMBER.fullmatch(text) else None


def _shown(value: Cell) -> str:
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return str(value).strip()


def read_rows(table: Table, faults: Faults, read: Callable[[RowReader], object]) -> None:
    """Go through the rows of a table.

    Args:
        table: The table.
        faults: Where faults are noted.
        read: What is done with each row.
    """
    for row in table.rows:
        read(RowReader(row, faults, may_be_comma=table.may_be_comma))
