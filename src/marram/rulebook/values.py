"""The types that a value of the rule data may have, and how each is read and written."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher
from enum import StrEnum

from marram.core.units import LengthUnit, Size
from marram.rulebook.consequences import Cases, Consequence, parse_cases, plain_cases


class PartType(StrEnum):
    """What kind of value a part of a row holds. Only a remark or a term is a sentence, and neither decides anything."""

    NUMBER = "number"
    YES_NO = "yes-no"
    WORD = "word"
    WORDS = "words"
    SIZE = "size"
    ROWS = "rows"
    CASES = "cases"
    TERM = "term"
    REMARK = "remark"


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeOf:
    """A size that is the one of another key."""

    key: str


@dataclass(frozen=True, slots=True)
class Absent:
    """No value: what an overlay says of a key that its base does not have, or that is to go."""


ABSENT = Absent()
FACT = "fact"
"""What the words of a closed list are the names of, where they are facts."""
Value = bool | int | float | str | tuple[str, ...] | Size | SizeOf | Cases | Absent

UNITS = ("min", "s", "m", "in", "mm", "oz", "g", "yd", "club-lengths", "strokes", "holes", "deg", "pct", "count")


@dataclass(frozen=True, slots=True, kw_only=True)
class PartSpec:
    """What may stand in a part of a row.

    Attributes:
        name: Name of the part.
        type: Type of its value.
        means: What it says, in our own words.
        unit: Unit of a number, else empty.
        words: Closed list of a word or words part.
        of: First part of the names of the rows that a rows part lists; ``fact`` where the words are facts.
        default: Value where an edition states none; only parts of a form have one.
        default_by: The part on whose word another default hangs; empty where none does.
        defaults: The defaults that hang on it, by that word.
        says: How a word of the closed list, or ``yes`` or ``no``, is said in a sentence; a word not named is said as it is written.
    """

    name: str
    type: PartType
    means: str
    unit: str = ""
    words: tuple[str, ...] = ()
    default: Value | None = None
    of: str = ""
    says: Mapping[str, str] = field(default_factory=dict)
    default_by: str = ""
    defaults: Mapping[str, Value] = field(default_factory=dict)

    def default_for(self, values: Mapping[str, Value]) -> Value | None:
        """The value where an edition states none, given what it states besides.

        Args:
            values: What the edition states in the other parts.
        """
        return self.defaults.get(str(values.get(self.default_by)), self.default)

    @property
    def decides(self) -> bool:
        """Whether logic may read the part."""
        return self.type not in {PartType.REMARK, PartType.TERM}

    @property
    def answers(self) -> tuple[str, ...]:
        """The words by which the part answers: its closed list, or yes and no; none where it answers otherwise."""
        return ("yes", "no") if self.type is PartType.YES_NO else self.words

    @property
    def expects(self) -> str:
        """What a value must look like, in words for an error message."""
        match self.type:
            case PartType.NUMBER:
                return "a number, zero or more" if self.unit == "count" else f"a number of {self.unit}, zero or more"
            case PartType.YES_NO:
                return "true or false"
            case PartType.WORD:
                return f"one of {', '.join(self.words)}"
            case PartType.WORDS:
                return f"a list of words from {', '.join(self.words)}"
            case PartType.ROWS:
                return f"a list of names of rows that start with {self.of}"
            case PartType.CASES:
                return "a list of cases, the last without `when` (docs/formats/rule-data.md)"
            case PartType.SIZE:
                units = ", ".join(f"{{ {unit} = … }}" for unit in LengthUnit)
                return f"one of {units}, or the key of another size in quotes"
            case _:
                return "a sentence in quotes"


def parse_stated(raw: object, spec: PartSpec) -> Value | None:
    """Read what an overlay says that a key held, or is to hold: a value as its part says it must be, or ``{ absent = true }``."""
    return ABSENT if raw == _NO_VALUE else parse_value(raw, spec)


def parse_value(raw: object, spec: PartSpec) -> Value | None:
    """Read a value as its part says it must be.

    Args:
        raw: What the TOML or JSON file holds.
        spec: The part.

    Returns:
        The value, or None where it does not fit the part.
    """
    match spec.type:
        case PartType.NUMBER:
            is_number = isinstance(raw, int | float) and not isinstance(raw, bool)
            return raw if is_number and 0 <= raw <= _LARGEST else None  # type: ignore[operator,return-value]
        case PartType.YES_NO:
            return raw if isinstance(raw, bool) else None
        case PartType.WORD:
            return raw if isinstance(raw, str) and raw in spec.words else None
        case PartType.WORDS:
            return _parse_words(raw, spec)
        case PartType.ROWS:
            is_list = isinstance(raw, list) and all(isinstance(name, str) for name in raw)
            return tuple(raw) if is_list else None  # type: ignore[arg-type]
        case PartType.SIZE:
            return _parse_size(raw)
        case PartType.CASES:
            return parse_cases(raw)
        case _:
            return raw if isinstance(raw, str) and raw.strip() else None


def _parse_words(raw: object, spec: PartSpec) -> tuple[str, ...] | None:
    if not isinstance(raw, list) or len(set(map(str, raw))) != len(raw):
        return None
    return tuple(raw) if all(word in spec.words for word in raw) else None


def _parse_size(raw: object) -> Size | SizeOf | None:
    if isinstance(raw, str):
        return SizeOf(key=raw) if "." in raw else None
    if not isinstance(raw, dict) or len(raw) != 1:
        return None
    unit, amount = next(iter(raw.items()))
    is_number = isinstance(amount, int | float) and not isinstance(amount, bool)
    if unit not in list(LengthUnit) or not is_number or not 0 < amount <= _LARGEST:
        return None
    return Size(amount=float(amount), unit=LengthUnit(unit))


Plain = bool | int | float | str | list[str] | dict[str, float] | list[dict[str, object]] | dict[str, bool]
_NO_VALUE = {"absent": True}
"""How a file writes that there is no value."""
_ALIKE, _LONGEST_NAME = 0.5, 200
_LARGEST = 1e9
"""No number of the rules is larger (our own limit); a whole one of hundreds of digits is a slip."""


def plain_value(value: Value) -> Plain:
    """The value as JSON and TOML write it."""
    match value:
        case Size():
            return {value.unit.value: int(value.amount) if value.amount == int(value.amount) else value.amount}
        case SizeOf():
            return value.key
        case Absent():
            return dict(_NO_VALUE)
        case tuple():
            cases = cases_of(value)
            return plain_cases(cases) if cases else [word for word in value if isinstance(word, str)]
        case _:
            return value


def json_member(key: str, value: Value) -> str:
    """A key with its value as a member of a JSON object, without spaces and the same each time."""
    return f"{json.dumps(key)}:{json.dumps(plain_value(value), sort_keys=True, separators=(',', ':'))}"


def cases_of(value: Value) -> Cases:
    """The cases of a value; none where it is of another type."""
    return tuple(case for case in value if isinstance(case, Consequence)) if isinstance(value, tuple) else ()


def facts_named(value: Value) -> tuple[str, ...]:
    """The facts that the cases of a value turn on, each once."""
    return tuple(dict.fromkeys(name for case in cases_of(value) for name in case.when))


def value_words(value: Value, unit: str = "") -> str:
    """The value as an official reads it."""
    match value:
        case bool():
            return "yes" if value else "no"
        case Size():
            return value.words
        case SizeOf():
            return f"as {value.key}"
        case Absent():
            return "no value"
        case tuple():
            cases = cases_of(value)
            words = [case.words for case in cases] or [word for word in value if isinstance(word, str)]
            return ("; " if cases else ", ").join(words) if words else "none"
        case str():
            return value
        case _:
            return f"{value:g} {unit}".strip()


def nearest_names(name: str, names: Sequence[str], count: int = 3) -> list[str]:
    """The names most like a name that is not known, for an error message; the likest first.

    Two names have no more in common than their longest common subsequence, which is quickly found: only names that it lets through are
    compared block by block, and among thousands that is a few.
    """
    from rapidfuzz import fuzz, process

    wanted = name[:_LONGEST_NAME]
    matcher = SequenceMatcher()
    matcher.set_seq2(wanted)
    found: list[tuple[float, str]] = []
    for other, most_pct, _ in process.extract(wanted, names, scorer=fuzz.ratio, limit=None, score_cutoff=100 * _ALIKE - 1e-6):
        if len(found) >= count and 100 * found[count - 1][0] > most_pct + 1e-6:
            break
        matcher.set_seq1(other)
        found = sorted([*found, (matcher.ratio(), other)], reverse=True)
    return [other for alike, other in found[:count] if alike >= _ALIKE]
