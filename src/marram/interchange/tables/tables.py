"""Tables that officials keep in CSV files and workbooks, read strictly: named columns, numbered rows, every fault in one pass."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from marram.core.errors import DataError
from marram.core.words import shortened
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.interchange.tables.table_rows import Faults, Row, RowReader, shown
from marram.interchange.tables.workbooks import Cell, Grid, read_workbook

_SEPARATORS = (";", "\t", ",")
_LOOKED_AT = 20
"""Rows at the top among which the heading is looked for."""
_MOST_SHOWN = 40

Names = Mapping[str, Sequence[str]]
Alternatives = Sequence[Sequence[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table with a heading.

    Attributes:
        where: File, and the sheet where there are several.
        columns: Columns that were found, by the names asked for.
        not_read: Headings of the other columns.
        rows: Rows that are not empty.
        may_be_comma: Whether a comma in a number is a decimal comma.
        headings: What stands over each column that was found.
        letters: Letters of each column in a spreadsheet; none for a CSV file.
        width: So many cells the heading has.
    """

    where: str
    columns: frozenset[str]
    not_read: tuple[str, ...]
    rows: tuple[Row, ...]
    may_be_comma: bool
    headings: Mapping[str, str]
    letters: Mapping[str, str]
    width: int


def read_table(
    path: Path,
    columns: Names,
    needed: Alternatives,
    *,
    what: str,
    error: type[DataError],
    sheet: str = "",
    faults: Faults | None = None,
) -> Table:
    """Read a table from a CSV file or a workbook.

    Args:
        path: A file whose name ends in .csv, .txt, .tsv or .xlsx.
        columns: Names of the columns to read, each with other headings that mean the same; case, spaces and signs do not count.
        needed: Sets of columns of which one must be there whole.
        what: What the file should be, in words, such as ``a table of tees``.
        error: Error to raise.
        sheet: Sheet of a workbook; if empty, the first that holds the needed columns.
        faults: Where faults of the table are noted, to be told with those of its cells; None to refuse the table for them at once.

    Returns:
        The first table that holds the needed columns. The heading may stand below a title.

    Raises:
        DataError: The file cannot be read, no sheet has the columns, cells of the table are merged or formulas hold no value.
    """
    return _first_table(path, grids_of(path, what=what, error=error), columns, needed, error=error, sheet=sheet, faults=faults)


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
    path: Path,
    grids: Iterator[Grid],
    columns: Names,
    needed: Alternatives,
    *,
    error: type[DataError],
    sheet: str,
    faults: Faults | None,
) -> Table:
    seen = []
    for grid in grids:
        seen.append(grid)
        heading = _heading(grid, columns, needed) if not sheet or grid.name == sheet else None
        if heading is not None:
            return _table(path, grid, heading, columns, error, faults)
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
    told = [shortened(shown(cell)) for cell in cells if cell is not None]
    return ", ".join(told[:_MOST_SHOWN]) + ", …" * (len(told) > _MOST_SHOWN)


def _names(row: Sequence[Cell], columns: Names) -> dict[int, str]:
    """Which column stands where, by the names asked for."""
    meant = {plain(word): name for name, others in columns.items() for word in (name, *others)}
    return {place: meant[plain(shown(cell))] for place, cell in enumerate(row) if cell is not None and plain(shown(cell)) in meant}


def plain(heading: str) -> str:
    """A heading without case, spaces and signs: ``Length (m)`` and ``length_m`` are one."""
    return re.sub(r"[\W_]+", "_", heading.casefold()).strip("_")


def _table(path: Path, grid: Grid, heading: int, columns: Names, error: type[DataError], noted: Faults | None = None) -> Table:
    where = f"{path.name}, sheet {grid.name}" if grid.name else path.name
    names = _names(grid.rows[heading], columns)
    faults = noted or Faults(where=where, error=error, hint="Correct these cells and read the file again.")
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
    if noted is None:
        faults.refuse()
    others = tuple(shown(cell) for place, cell in enumerate(grid.rows[heading]) if cell is not None and place not in names)
    rows = tuple(_rows(grid, heading, names))
    return Table(
        where=where,
        columns=frozenset(names.values()),
        not_read=others,
        rows=rows,
        may_be_comma=grid.may_be_comma,
        headings={name: shown(grid.rows[heading][place]) for place, name in names.items()},
        letters={} if grid.is_csv else {name: _letters(place) for place, name in names.items()},
        width=width,
    )


def _letters(place: int) -> str:
    """The letters of a column in a spreadsheet, its place counted from 0: A, Z, AA."""
    before, last = divmod(place, 26)
    return (_letters(before - 1) if before else "") + chr(ord("A") + last)


def _rows(grid: Grid, heading: int, names: Mapping[int, str]) -> Iterator[Row]:
    for index in range(heading + 1, len(grid.rows)):
        row = grid.rows[index]
        cells = {name: row[place] for place, name in names.items() if place < len(row) and row[place] is not None}
        if cells:
            cut_off = tuple(name for place, name in names.items() if place >= len(row)) if grid.is_csv else ()
            yield Row(number=index + 1, cells=cells, width=len(row) if grid.is_csv else None, cut_off=cut_off)


def read_rows(table: Table, faults: Faults, read: Callable[[RowReader], object]) -> None:
    """Go through the rows of a table.

    Args:
        table: The table.
        faults: Where faults are noted.
        read: What is done with each row.
    """
    for row in table.rows:
        read(RowReader(row, faults, may_be_comma=table.may_be_comma, letters=table.letters))
