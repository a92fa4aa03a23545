"""What to write instead of a value that does not fit: the nearest that the rule data can say."""

from __future__ import annotations

import re

from marram.core.units import LengthUnit
from marram.rulebook.values import PartSpec, PartType, nearest_names

_AMOUNT = re.compile(r"\s*(?P<amount>\d+(?:[.,]\d+)?)\s*(?P<unit>['′\"″]|[A-Za-z][A-Za-z -]*)\s*")
_METRES = {"mm": 0.001, "cm": 0.01, "m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0}
_INCHES = {
    "in": 1.0, "inch": 1.0, "inches": 1.0, '"': 1.0, "″": 1.0, "ft": 12.0, "foot": 12.0, "feet": 12.0, "'": 12.0, "′": 12.0,
    "yd": 36.0, "yard": 36.0, "yards": 36.0,
}  # fmt: skip
"""Inches in a unit: exact by definition (international yard and pound agreement, 1959)."""
_SECONDS = {"s": 1, "sec": 1, "second": 1, "seconds": 1, "min": 60, "minute": 60, "minutes": 60, "h": 3600, "hour": 3600, "hours": 3600}
_IN_SECONDS, _IN_INCHES = {"s": 1, "min": 60}, {"in": 1, "yd": 36}
_NUMBERS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_YES = {"yes": "true", "true": "true", "no": "false", "false": "false"}


def honest_way(raw: object, spec: PartSpec) -> str:
    """What comes nearest to a value that does not fit its part, as a sentence; empty where nothing does.

    Args:
        raw: What was written.
        spec: The part.
    """
    text = _text(raw)
    match spec.type:
        case PartType.WORD | PartType.WORDS:
            return _closed_list(text, spec)
        case PartType.YES_NO:
            return f"Write {_YES[text.lower()]}, without quotes." if text.lower() in _YES else "It can only be so or not so."
        case PartType.SIZE:
            return _size(text)
        case PartType.NUMBER:
            return _number(text, spec.unit)
        case _:
            return ""


def _text(raw: object) -> str:
    """What was written, in one line; a length in a unit of its own, such as { feet = 6 }, as *6 feet*."""
    if isinstance(raw, dict) and len(raw) == 1:
        unit, amount = next(iter(raw.items()))
        return f"{amount} {str(unit).replace('_', ' ')}"
    return "" if raw is None else str(raw).strip()


def as_listed(text: str, spec: PartSpec) -> str:
    """A typed word as the closed list has it, whatever its capitals and spaces; the text itself where the list has none."""
    plain = text.strip().lower().replace(" ", "-").replace("_", "-")
    return next((word for word in spec.words if word.replace("_", "-") == plain), text.strip())


def _closed_list(text: str, spec: PartSpec) -> str:
    word = as_listed(text, spec)
    if word in spec.words:
        return f'Write "{word}".'
    plain = text.lower().replace(" ", "-")
    near = [word for word in spec.words if plain and plain in word] or nearest_names(plain, spec.words)
    ending = f" Nearest: {', '.join(near)}." if near else ""
    said = f"{text!r} cannot be expressed here" if text else "It cannot be expressed here"
    return f"{said}: {spec.means} is one of a closed list. Take the nearest word, and say under because what it leaves out.{ending}"


def _amount(text: str) -> tuple[float, str] | None:
    first, _, rest = text.partition(" ")
    figures = f"{_NUMBERS.index(first.lower())} {rest}".strip() if first.lower() in _NUMBERS else text
    found = _AMOUNT.fullmatch(figures)
    if found is None:
        return (float(figures), "") if re.fullmatch(r"\d+(?:\.\d+)?", figures) else None
    return float(found["amount"].replace(",", ".")), found["unit"].strip().lower().replace(" ", "-")


def _size(text: str) -> str:
    """A length in another unit, turned into one of the three that the rule data knows."""
    found = _amount(text)
    if found is None:
        return ""
    amount, unit = found
    if unit in {"club-length", "club-lengths", "clublength", "clublengths", "clubs"}:
        return f"Write {{ {LengthUnit.CLUB_LENGTHS} = {amount:g} }}."
    if unit in _INCHES:
        return f"Write {{ {LengthUnit.INCHES} = {amount * _INCHES[unit]:g} }}, which is the same length."
    return f"Write {{ {LengthUnit.METRES} = {amount * _METRES[unit]:g} }}, which is the same length." if unit in _METRES else ""


def _number(text: str, unit: str) -> str:
    """A number with another unit, turned into the unit of the part where that is exact."""
    found = _amount(text)
    if found is None:
        return ""
    amount, named = found
    for table, own in ((_SECONDS, _IN_SECONDS), (_INCHES, _IN_INCHES)):
        if named in table and unit in own:
            return f"Write {amount * table[named] / own[unit]:g}: the unit is {unit}."
    if named in _SECONDS or named in _INCHES or named in _METRES:
        return f"A number of {unit} is wanted, and {text!r} is none."
    return f"Write {amount:g}, without quotes" + ("." if unit == "count" else f": the unit is {unit}.")
