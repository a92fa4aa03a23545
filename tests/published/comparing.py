"""Comparing what was worked out with what a published example says: exactly, unless the example states a tolerance.

A number is compared as the fraction that it is written as, so 10.55 is not 10.6. A value that the example shows cut off, such as a
handicap before rounding, is given as `Unrounded` and is rounded to the decimals shown. Text is compared by the outcome that it names.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import floor, isfinite, sqrt

from tests.published.adapter import to_number
from tests.published.outcome_words import outcome_of

Number = int | float | Decimal | Fraction


@dataclass(frozen=True, slots=True)
class Unrounded:
    """A value that an example shows to some decimals only."""

    value: Number

    def as_shown(self, shown: Number) -> Fraction:
        """Rounded to the decimals of another number, an exact half upward."""
        scale = 10 ** decimals_of(shown)
        return Fraction(floor(exact(self.value) * scale + Fraction(1, 2)), scale)


@dataclass(frozen=True, slots=True)
class Drawn:
    """A value that was drawn by chance, as the one in the example was too, from as many draws."""

    value: float
    error: float

    def is_like(self, shown: Number) -> bool:
        """Whether both may well be drawn from the same: within three standard errors of their difference, and the last decimal shown."""
        # a number of a table of decimals is written with its nought, unlike a whole number
        decimals = max(decimals_of(shown), int(isinstance(shown, float)))
        return bool(abs(self.value - float(shown)) <= 3 * sqrt(2) * self.error + 0.5 / 10**decimals)


def exact(value: Number) -> Fraction:
    """A number as the fraction that it is written as: a float counts as its shortest decimal."""
    return Fraction(repr(value)) if isinstance(value, float) else Fraction(value)


def decimals_of(shown: Number) -> int:
    """How many decimals a number is written with; a nought after the point counts for none, since YAML keeps no last nought."""
    exponent = Decimal(repr(shown) if isinstance(shown, float) else str(shown)).normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def is_number(value: object) -> bool:
    """Whether a value is a number; yes and no are none."""
    return isinstance(value, int | float | Decimal | Fraction) and not isinstance(value, bool)


def compare(name: str, expected: object, found: object, tolerance: object = None, *, to_decimals_shown: bool = False) -> Iterator[str]:
    """What differs; nothing where they agree.

    Args:
        name: Name of the value.
        expected: What the example says.
        found: What was worked out; None where nothing was.
        tolerance: How near it must be, where the example states it.
        to_decimals_shown: Whether every number found is a measured one, which the example shows to some decimals only.
    """
    if found is None:
        yield f"{name}: not worked out; expected {expected}"
    elif isinstance(expected, Mapping) and isinstance(found, Mapping):
        for part, value in expected.items():
            yield from compare(f"{name}.{part}", value, found.get(part), tolerance, to_decimals_shown=to_decimals_shown)
    elif isinstance(expected, Sequence) and not isinstance(expected, str) and isinstance(found, Sequence) and not isinstance(found, str):
        if len(expected) != len(found):
            yield f"{name}: expected {len(expected)} values, found {len(found)}: {list(found)}"
        for place, (value, other) in enumerate(zip(expected, found, strict=False), start=1):
            yield from compare(f"{name}[{place}]", value, other, tolerance, to_decimals_shown=to_decimals_shown)
    elif is_number(expected) and isinstance(found, Drawn):
        near = None if tolerance is None else to_number(tolerance, name)
        if not (found.is_like(expected) if near is None else abs(found.value - expected) <= near):  # type: ignore[arg-type, operator]
            yield f"{name}: expected {expected}, drew {found.value:.4g} with a standard error of {found.error:.2g}"
    elif is_number(expected) and (is_number(found) or isinstance(found, Unrounded)):
        yield from _numbers(name, expected, found, tolerance, to_decimals_shown)  # type: ignore[arg-type]
    elif isinstance(expected, str) and isinstance(found, str):
        if outcome_of(expected) != outcome_of(found):
            yield f"{name}: expected {expected!r}, found {found!r}"
    elif type(expected) is not type(found) or expected != found:
        yield f"{name}: expected {expected}, found {found}"


def _numbers(name: str, expected: Number, found: Number | Unrounded, tolerance: object, to_decimals_shown: bool) -> Iterator[str]:
    worked_out = found.value if isinstance(found, Unrounded) else found
    if not isfinite(worked_out):
        yield f"{name}: expected {expected}, found {worked_out}"
    elif tolerance is not None:
        near = to_number(tolerance, name)
        if not abs(worked_out - expected) <= near:  # type: ignore[operator]
            yield f"{name}: expected {expected} within {near:g}, found {worked_out}"
    else:
        shown = Unrounded(worked_out) if to_decimals_shown else found
        value = shown.as_shown(expected) if isinstance(shown, Unrounded) else exact(shown)
        if value != exact(expected):
            yield f"{name}: expected {expected}, found {float(worked_out):.10g}"
