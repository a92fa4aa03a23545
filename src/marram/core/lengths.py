"""Lengths as somebody wants to read them: in metres or yards, with a point or a comma. What is worked out and kept stays in metres."""

from __future__ import annotations

import re
from dataclasses import dataclass

YARD_M = 0.9144
"""One yard in metres, exact by definition (international yard and pound agreement, 1959)."""

_LENGTH = re.compile(r"(?<![\w.,:/−-])(?<!\bx )(?<!\by )(\d+(?:\.\d+)?) (m²|m)(?![\w²])(?! [NSEW]\b)")
"""A measured length or area in a sentence. A coordinate, told with x or y before it or its way behind it, is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lengths:
    """How lengths are told.

    Attributes:
        in_yards: Whether in yards, and areas in square yards.
        with_comma: Whether decimals stand behind a comma.
    """

    in_yards: bool = False
    with_comma: bool = False

    @property
    def unit(self) -> str:
        """The sign of the unit."""
        return "yd" if self.in_yards else "m"

    @property
    def unit_m(self) -> float:
        """Metres in one of the unit."""
        return YARD_M if self.in_yards else 1.0

    def told(self, text: str) -> str:
        """A text with every length in it told so; each keeps as many decimals as it has.

        Args:
            text: A text whose lengths are in metres, with a point.
        """
        return _LENGTH.sub(self._one, text) if self.in_yards or self.with_comma else text

    def number(self, text: str) -> str:
        """A number as it is written."""
        return text.replace(".", ",") if self.with_comma else text

    def _one(self, found: re.Match[str]) -> str:
        amount, sign = found[1], found[2]
        decimals = len(amount.partition(".")[2])
        is_area = sign.endswith("²")
        value = float(amount) / (self.unit_m**2 if is_area else self.unit_m)
        return f"{self.number(f'{value:.{decimals}f}')} {self.unit}{'²' if is_area else ''}"


IN_METRES = Lengths()
"""As everything is worked out and kept."""
