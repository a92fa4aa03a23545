"""How a value of the rule data is told in words: numbers with their unit, sizes, yes or no, words of closed lists."""

from __future__ import annotations

from collections.abc import Sequence

from marram.core.units import LengthUnit, Size
from marram.rulebook.values import PartSpec, Value, value_words

NAMED_UNITS = {
    "min": "minute",
    "s": "second",
    "in": "inch",
    "strokes": "penalty stroke",
    "club-lengths": "club-length",
    "holes": "hole",
    "yd": "yard",
}
COUNTED = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def said_as(spec: PartSpec, value: Value) -> Sequence[str]:
    """The words, or yes or no, of a value as its part has them said; a word that the part does not speak of is said as it is written."""
    if isinstance(value, bool):
        words = ["yes" if value else "no"]
    else:
        words = [word for word in (value if isinstance(value, tuple) else (value,)) if isinstance(word, str)]
    return list(dict.fromkeys(spec.says.get(word, word.replace("-", " ").replace("_", " ")) for word in words))


def number_words(value: float, unit: str, *, in_figures: bool = False) -> str:
    """A number with its unit: strokes and counts in words up to twelve, everything else in figures; inches are followed by metres.

    Args:
        value: The number.
        unit: Its unit, as the rule data has it.
        in_figures: Whether strokes and counts are told in figures too, as in a table.
    """
    if in_figures:
        figures = "no" if value == 0 and unit == "strokes" else f"{value:g}"
    elif unit in {"count", "strokes"} and value == int(value) and int(value) in range(len(COUNTED)):
        figures = COUNTED[int(value)]
    else:
        figures = f"{value:g}"
    if unit not in NAMED_UNITS:
        return figures if unit == "count" else value_words(value, unit)
    plural = "inches" if unit == "in" else f"{NAMED_UNITS[unit]}s"
    metres = f" ({Size(amount=float(value), unit=LengthUnit.INCHES).in_metres(1.0):.3f} m)" if unit == "in" else ""
    return f"{figures} {NAMED_UNITS[unit] if value == 1 else plural}{metres}"


def size_words(size: Size) -> str:
    """A size as a rule states it; inches are followed by metres."""
    return f"{size.words} ({size.in_metres(1.0):.2f} m)" if size.unit is LengthUnit.INCHES else size.words


def listed(words: Sequence[str], joint: str = "and") -> str:
    """Words of a list, the last after *and* or *or*; nothing is told as such."""
    if not words:
        return "nothing"
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {joint} {words[-1]}"
