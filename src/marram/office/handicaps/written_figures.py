"""Figures as an official writes them down, read exactly; every one that cannot be is told in one pass, under the field it stands in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from marram.core.errors import HandicapError
from marram.core.words import fault_list, shortly
from marram.handicaps.rounding import in_decimals
from marram.handicaps.written_handicaps import read_handicap, tell_handicap

_NUMBER = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,12})?", re.ASCII)
PICKED_UP, NOT_PLAYED = "-", "n"
"""What stands on a card for a ball that was picked up, and for a hole that was not played for a valid reason."""
_NO_SCORE = {PICKED_UP, NOT_PLAYED, "x", ""}
_LOWEST_INDEX = Fraction(-15)
"""No player's Index lies lower: our own limit, far below every one that is known."""
MOST_STROKES, LEAST_STROKES = 80, -30
"""What a Course or Playing Handicap can be: an Index of 54.0 on the steepest slope gives 74; our own limits, a little wider."""


@dataclass(slots=True)
class Written:
    """Reads what was written and collects what is wrong."""

    told: list[str] = field(default_factory=list)

    def fault(self, field: str, message: str) -> None:
        """Note a fault."""
        self.told.append(f"`{field}`: {message}")

    def faults(self, field: str, messages: Iterable[str]) -> None:
        """Note faults."""
        for message in messages:
            self.fault(field, message)

    def refuse(self) -> None:
        """Stop where anything is wrong.

        Raises:
            HandicapError: With every fault.
        """
        if self.told:
            raise HandicapError(f"There {'are' if len(self.told) > 1 else 'is'} {fault_list(self.told)}")

    def index(self, field: str, written: str, most: Fraction) -> Fraction | None:
        """A Handicap Index, to a tenth and no higher than the highest; None where it is none."""
        return self._handicap(field, written, decimals=1, least=_LOWEST_INDEX, most=most)

    def whole_handicap(self, field: str, written: str) -> int | None:
        """A Course or Playing Handicap; None where it is none."""
        found = self._handicap(field, written, decimals=0, least=Fraction(LEAST_STROKES), most=Fraction(MOST_STROKES - 1))
        return None if found is None else int(found)

    def unrounded_handicap(self, field: str, written: str) -> Fraction | None:
        """A Course Handicap before it is rounded; None where it is none."""
        return self._handicap(field, written, decimals=None, least=Fraction(LEAST_STROKES), most=Fraction(MOST_STROKES))

    def _handicap(self, field: str, written: str, *, decimals: int | None, least: Fraction, most: Fraction) -> Fraction | None:
        try:
            found = read_handicap(written, decimals=decimals)
        except HandicapError as problem:
            self.fault(field, f"{problem.message} {problem.hint}")
            return None
        if not least <= found <= most:
            shown = decimals or 0
            self.fault(field, f"{written} cannot be; expected {tell_handicap(least, shown)} to {tell_handicap(most, shown)}.")
            return None
        return found

    def number(self, field: str, written: str) -> Fraction | None:
        """A number; None where it is none."""
        if _NUMBER.fullmatch(written.strip()) is None:
            comma = (
                f" Write it with a point: {written.strip().replace(',', '.')}."
                if _NUMBER.fullmatch(written.replace(",", ".").strip())
                else ""
            )
            self.fault(field, f"{shortly(written)} is no number.{comma}")
            return None
        return Fraction(written.strip())

    def whole(self, field: str, written: str, least: int, most: int) -> int | None:
        """A whole number within limits; None where it is none."""
        found = self.number(field, written)
        if found is None:
            return None
        if found.denominator != 1 or not least <= found <= most:
            self.fault(
                field,
                f"{in_decimals(found, 0) if found.denominator == 1 else written} cannot be; expected a whole number, {least} to {most}.",
            )
            return None
        return int(found)

    def wholes(self, field: str, written: str, least: int, most: int, *, may_lack: bool = False) -> list[int | None]:
        """Whole numbers apart by commas, such as one for each hole; None stands for one that is wrong, or that may lack and does."""
        parts = [part.strip() for part in written.split(",")]
        return [None if may_lack and part.casefold() in _NO_SCORE else self.whole(field, part, least, most) for part in parts]


def all_known(values: Sequence[int | None]) -> list[int]:
    """The values of a list of which none lacks."""
    return [value for value in values if value is not None]
