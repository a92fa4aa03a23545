"""Values of the rule data as an official types them into a cell or at a prompt, and reads them back."""

from __future__ import annotations

import re
from collections.abc import Mapping

from marram.core.toml_text import read_toml
from marram.core.units import LengthUnit, Size
from marram.core.words import shortly
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.consequences import plain_cases
from marram.rulebook.overlays.honest_way import as_listed, honest_way
from marram.rulebook.values import ABSENT, Absent, PartSpec, PartType, SizeOf, Value, cases_of, nearest_names, parse_value

_AS = "as "
_NO_VALUE = "no value"
_YES: Mapping[str, bool] = {"yes": True, "true": True, "no": False, "false": False}
_LENGTHS: Mapping[str, LengthUnit] = {
    "club-lengths": LengthUnit.CLUB_LENGTHS,
    "club-length": LengthUnit.CLUB_LENGTHS,
    "clublengths": LengthUnit.CLUB_LENGTHS,
    "in": LengthUnit.INCHES,
    "inch": LengthUnit.INCHES,
    "inches": LengthUnit.INCHES,
    "m": LengthUnit.METRES,
    "metre": LengthUnit.METRES,
    "metres": LengthUnit.METRES,
}
_SINGULAR = {"minute": "min", "minutes": "min", "second": "s", "seconds": "s", "penalty strokes": "strokes", "penalty stroke": "strokes"}
_NUMBERS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_SHORT = {LengthUnit.CLUB_LENGTHS: "club-lengths", LengthUnit.INCHES: "in", LengthUnit.METRES: "m"}
_AMOUNT = re.compile(r"\s*(?P<amount>\d+(?:[.,]\d+)?)\s*(?P<unit>[A-Za-z][A-Za-z -]*)?\s*")


def written(value: Value) -> str:
    """A value as it is typed: ``2 club-lengths``, ``yes``, ``5``, a word, words with commas between."""
    match value:
        case bool():
            return "yes" if value else "no"
        case Size():
            return f"{value.amount:g} {_SHORT[value.unit]}"
        case SizeOf():
            return f"{_AS}{value.key}"
        case Absent():
            return _NO_VALUE
        case tuple():
            cases = cases_of(value)
            return "; ".join(_case_text(case) for case in plain_cases(cases)) if cases else ", ".join(map(str, value))
        case str():
            return value
        case _:
            return f"{value:g}"


def takes(spec: PartSpec) -> str:
    """What may be typed for a part, in few words."""
    match spec.type:
        case PartType.YES_NO:
            return "yes or no"
        case PartType.NUMBER:
            return f"a number ({spec.unit}), such as 2"
        case PartType.SIZE:
            return "a length such as 2 club-lengths, 80 in, 2 m; or the length of another key, such as as relief.small.size"
        case PartType.WORD:
            return f"one of: {', '.join(spec.words)}"
        case PartType.WORDS:
            return f"some of, with commas between: {', '.join(spec.words)}"
        case PartType.ROWS:
            return f"names of {spec.of} rows with commas between"
        case PartType.CASES:
            return 'cases with semicolons between, such as { when = ["by_accident"] }; { strokes = 1 }'
        case _:
            return "a sentence"


def read_written(text: str, spec: PartSpec, catalogue: Catalogue) -> tuple[Value | None, str]:
    """Read a typed value.

    Args:
        text: What was typed.
        spec: The part that it is for.
        catalogue: The rule data, for sizes that follow another key.

    Returns:
        The value and no fault, or None with what is wrong and what would be right.
    """
    typed = text.strip()
    if typed == _NO_VALUE:
        return ABSENT, ""
    raw = _raw(typed, spec)
    value = None if raw is None else parse_value(raw, spec)
    if value is None:
        way = _typed_way(typed, spec)
        return None, f"{shortly(typed)} does not fit; expected {takes(spec)}{f'. {way}' if way else ''}"
    if isinstance(value, SizeOf) and value.key not in catalogue.keys:
        return None, f"there is no key {value.key!r} to follow; nearest: {', '.join(nearest_names(value.key, list(catalogue.keys)))}"
    return value, ""


def _typed_way(typed: str, spec: PartSpec) -> str:
    """The nearest honest way, as it is typed and not as TOML writes it."""
    way = honest_way(typed, spec)
    for unit in LengthUnit:
        way = re.sub(rf"\{{ {unit} = ([^ ]+) \}}", rf"\1 {_SHORT[unit]}", way)
    return way.replace(", without quotes", "")


def _raw(typed: str, spec: PartSpec) -> object:
    """What a typed value would be in TOML; None where it cannot be read."""
    match spec.type:
        case PartType.YES_NO:
            return _YES.get(typed.lower())
        case PartType.NUMBER:
            return _number(typed, spec.unit)
        case PartType.SIZE:
            return typed[len(_AS) :].strip() if typed.startswith(_AS) else _length(typed)
        case PartType.WORDS | PartType.ROWS:
            listed = "" if typed in {"none", "-"} else typed
            return [as_listed(word, spec) for word in listed.split(",") if word.strip()]
        case PartType.CASES:
            return _cases(typed)
        case PartType.WORD:
            return as_listed(typed, spec)
        case _:
            return typed


def _number(typed: str, unit: str) -> float | int | None:
    found = _AMOUNT.fullmatch(_in_figures(typed))
    named = (found["unit"] or unit).strip().lower() if found else ""
    if found is None or _SINGULAR.get(named, named).removesuffix("s") != unit.lower().removesuffix("s"):
        return None
    amount = float(found["amount"].replace(",", "."))
    return int(amount) if amount.is_integer() else amount


def _in_figures(typed: str) -> str:
    """A number word at the beginning as a figure."""
    first, _, rest = typed.partition(" ")
    return f"{_NUMBERS.index(first.lower())} {rest}" if first.lower() in _NUMBERS else typed


def _length(typed: str) -> dict[str, float] | None:
    found = _AMOUNT.fullmatch(_in_figures(typed))
    unit = _LENGTHS.get((found["unit"] or "").strip().lower().replace(" ", "-")) if found else None
    return {unit.value: float(found["amount"].replace(",", "."))} if found and unit else None


def _case_text(case: Mapping[str, object]) -> str:
    parts = []
    for name, value in case.items():
        told = f"[{', '.join(repr(str(entry)).replace(chr(39), chr(34)) for entry in value)}]" if isinstance(value, list) else _toml(value)
        parts.append(f"{name} = {told}")
    return f"{{ {', '.join(parts)} }}" if parts else "{}"


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return f'"{value}"' if isinstance(value, str) else str(value)


def _cases(typed: str) -> object:
    from marram.core.errors import RuleDataError

    try:
        return read_toml(f"cases = [{typed.replace('; ', ', ').rstrip(';')}]", where="", hint="", error=RuleDataError)["cases"]
    except RuleDataError:
        return None
