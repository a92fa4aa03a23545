"""Workbooks (XLSX) as plain grids of cells, with what a table must not hold told: merged cells, formulas without a value."""

from __future__ import annotations

import datetime
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from marram.core.errors import DataError
from marram.interchange.tables.workbook_limits import UnfitError, look_through

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

Cell: TypeAlias = str | int | float | bool | None

_AGAIN = "Save it anew as .xlsx from a spreadsheet program."


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """The cells of one sheet.

    Attributes:
        name: Name of the sheet; empty for a CSV file.
        rows: The rows from the first, each cell with its value, None where it is empty.
        merged: Merged cells, such as ``A2:A4``, with the number of their last row.
        unvalued: Cells with a formula that holds no value, such as ``C5``, with the number of their row.
        may_be_comma: Whether a comma in a number is a decimal comma.
        is_csv: Whether the rows come from a CSV file.
    """

    name: str
    rows: tuple[tuple[Cell, ...], ...]
    merged: tuple[tuple[str, int], ...]
    unvalued: tuple[tuple[str, int], ...]
    may_be_comma: bool
    is_csv: bool = False


def read_workbook(path: Path, *, what: str, error: type[DataError]) -> tuple[Grid, ...]:
    """The sheets of a workbook.

    Args:
        path: The file.
        what: What it should be, in words, for the message.
        error: Error to raise.

    Raises:
        DataError: There is no such file, or it is no workbook, or too large.
    """
    hint = f"Expected {what}."
    try:
        has_formulas = look_through(path)
    except FileNotFoundError:
        raise error("There is no such file.", where=path.name, hint=f"Give the path of {what}.") from None
    except UnfitError as problem:
        raise error(problem.message, where=path.name, hint=f"{problem.hint} {hint}") from None
    except OSError as problem:
        raise error(f"The file cannot be read: {problem.strerror}.", where=path.name, hint=hint) from None
    values = _open(path, error, data_only=True)
    formulas = _open(path, error, data_only=False) if has_formulas else values
    return tuple(_grid(values[name], formulas[name]) for name in values.sheetnames if hasattr(values[name], "iter_rows"))


def _open(path: Path, error: type[DataError], *, data_only: bool) -> Workbook:
    from openpyxl import load_workbook

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the library warns of styles and validations, which no table needs
        try:
            with path.open("rb") as file:
                return load_workbook(file, data_only=data_only, keep_links=False)
        except Exception as problem:  # a damaged workbook makes the library raise nearly anything
            raise error(f"The workbook is damaged: {type(problem).__name__} while reading it.", where=path.name, hint=_AGAIN) from None


def _grid(values: Worksheet, formulas: Worksheet) -> Grid:
    # Only cells that hold something: one that was coloured at the last row would else make seventeen thousand million empty ones.
    held = {place: cell.value for place, cell in values._cells.items() if cell.value is not None}  # noqa: SLF001
    last_row, last_column = (max((place[side] for place in held), default=0) for side in (0, 1))
    rows = tuple(tuple(_cell(held.get((row, column))) for column in range(1, last_column + 1)) for row in range(1, last_row + 1))
    unvalued = tuple(
        (cell.coordinate, place[0])
        for place, cell in sorted(formulas._cells.items())  # noqa: SLF001
        if cell.data_type == "f" and place not in held
    )
    merged = tuple(sorted((str(cells.coord), int(cells.max_row)) for cells in formulas.merged_cells.ranges))
    return Grid(name=formulas.title, rows=rows, merged=merged, unvalued=unvalued, may_be_comma=True)


def _cell(value: object) -> Cell:
    if isinstance(value, str):
        return value.strip() or None
    if value is None or isinstance(value, bool | int | float):
        return value
    if isinstance(value, datetime.datetime) and value.time() == datetime.time():
        return value.date().isoformat()  # a day that is typed into a cell is kept as its midnight
    if isinstance(value, datetime.datetime | datetime.date | datetime.time):
        return value.isoformat()
    return str(value)
