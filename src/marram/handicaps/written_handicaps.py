"""Handicaps as they are written: a plus handicap with its plus, which stands for strokes that are given and not received."""

from __future__ import annotations

import re
from fractions import Fraction

from marram.core.errors import HandicapError
from marram.core.words import counted, shortly
from marram.handicaps.rounding import in_decimals

_WRITTEN = re.compile(r"(?P<plus>\+?)(?P<number>[0-9]{1,3}(?:\.(?P<decimals>[0-9]{1,12}))?)", re.ASCII)
_MINUS = ("-", "−", "–")
_KINDS = {0: "a whole number", 1: "a number with one decimal"}


def read_handicap(written: str, *, decimals: int | None = None) -> Fraction:
    """Read a handicap as it is written; a plus handicap, such as ``+2.4``, becomes the number -2.4.

    Args:
        written: The text.
        decimals: So many decimals at most: 1 for an Index, 0 for a Course or Playing Handicap, None for one that is not rounded.

    Returns:
        Strokes received; below zero for a plus handicap, whose strokes are given.

    Raises:
        HandicapError: It is no handicap, or has too many decimals.
    """
    text = written.strip()
    found = _WRITTEN.fullmatch(text)
    if found is None:
        raise HandicapError(f"{shortly(written)} is no handicap.", hint=_hint(text))
    held = len(found["decimals"] or "")
    if decimals is not None and held > decimals:
        raise HandicapError(
            f"{shortly(text)} has {counted(held, 'decimal')}.", hint=f"Expected {_KINDS.get(decimals, f'{decimals} decimals at most')}."
        )
    value = Fraction(found["number"])
    return -value if found["plus"] else value


def _hint(text: str) -> str:
    if text.startswith(_MINUS) and _WRITTEN.fullmatch(text[1:]):
        return f"A plus handicap is written with its plus, +{text[1:]}; any other without a sign, {text[1:]}."
    if _WRITTEN.fullmatch(text.replace(",", ".", 1)):
        return f"Write it with a point: {text.replace(',', '.', 1)}."
    return "Expected a number such as 12.2, or +2.4 for a plus handicap."


def tell_handicap(value: Fraction | int, decimals: int = 0) -> str:
    """A handicap as it is written, such as ``12.2``, ``0`` or ``+2.4``; none is told with a minus.

    Args:
        value: Strokes received; below zero for a plus handicap.
        decimals: So many decimals are told.
    """
    told = in_decimals(Fraction(value), decimals)
    return told.replace("-", "+", 1)
