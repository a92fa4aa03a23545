"""Rows of a table read cell by cell; what is wrong with them is noted with its place and told in one pass."""

from __future__ import annotations

import math
import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field

from marram.core.errors import DataError
from marram.core.words import fault_list, on_one_line, shortly
from marram.interchange.tables.workbooks import Cell

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,3})?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a table.

    Attributes:
        number: Its number in the file, from 1, as a spreadsheet shows it.
        cells: What stands under each column that is read; nothing where the cell is empty.
        width: So many cells it has, of a CSV file; None in a workbook.
        cut_off: Columns for which it has no cell at all, in a CSV file.
    """

    number: int
    cells: Mapping[str, Cell]
    width: int | None = None
    cut_off: tuple[str, ...] = ()


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

    def __init__(self, row: Row, faults: Faults, *, may_be_comma: bool, letters: Mapping[str, str] | None = None) -> None:
        self.row = row
        self.faults = faults
        self.may_be_comma = may_be_comma
        self.letters = letters or {}

    def fault(self, column: str, message: str) -> None:
        """Note a fault of a cell."""
        self.faults.add(self.place(column), message)

    def place(self, column: str) -> str:
        """Where a cell stands: its row and column, and its name in a spreadsheet. A column called by a number is that of a hole."""
        cell = f" (cell {self.letters[column]}{self.row.number})" if column in self.letters else ""
        return f"row {self.row.number}, {'hole' if column.isdigit() else 'column'} {column}{cell}"

    def text(self, column: str) -> str:
        """The text of a cell; empty where nothing stands."""
        value = self.row.cells.get(column)
        return "" if value is None else on_one_line(shown(value))

    def figure(self, column: str) -> str:
        """The text of a cell that holds a figure, with a point where the table has decimal commas."""
        return with_point(self.text(column), may_be_comma=self.may_be_comma)

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
            self.fault(column, f"{shortly(shown(value))} is no number{hint}")
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


def with_point(text: str, *, may_be_comma: bool) -> str:
    """A figure with a decimal point, where a comma in it can be nothing else."""
    return text.replace(",", ".") if may_be_comma and text.count(",") == 1 and "." not in text else text


def _number(value: Cell, *, may_be_comma: bool) -> float | None:
    if isinstance(value, bool) or value is None:
        return None
    if isinstance(value, int | float):
        return float(value) if abs(value) <= sys.float_info.max else math.inf
    text = value.replace("\N{MINUS SIGN}", "-").strip()
    text = with_point(text, may_be_comma=may_be_comma)
    return float(text) if _NUMBER.fullmatch(text) else None


def shown(value: Cell) -> str:
    """What stands in a cell, as its reader sees it."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return str(value).strip()
