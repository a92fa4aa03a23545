"""The values that a forecast assumes, each with its range and provenance; what is stated in their place says so."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import lru_cache
from importlib import resources
from math import isfinite

from marram.core.errors import StudyError
from marram.core.field_names import Field

STATED = "stated for this forecast"
"""Provenance of a value that was given with the job."""
_MOST = 1e4
_WHOLE_PCT = 100.0
_MAY_PASS_A_HUNDRED = "stage_times_pct"


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """One value that no rule states.

    Attributes:
        name: Its name.
        means: What it is, in a sentence without its full stop.
        value: What is played.
        low: Least value that may well be meant.
        high: Largest such value.
        unit: Unit.
        provenance: Where it comes from: an assumption, memory, what was read, local timings, or stated for the forecast.
    """

    name: str
    means: str
    value: float
    low: float
    high: float
    unit: str
    provenance: str

    @property
    def is_weak(self) -> bool:
        """Whether it may well be off."""
        return self.low < self.value or self.value < self.high


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumptions:
    """All values that a forecast assumes.

    Attributes:
        by_name: Each by its name.
    """

    by_name: Mapping[str, Assumed]

    def __iter__(self) -> Iterator[Assumed]:
        """Each in the order of the table."""
        return iter(self.by_name.values())

    def value(self, name: str) -> float:
        """What is played for a name."""
        return self.by_name[name].value

    def share(self, name: str) -> float:
        """A value told in hundredths, as a part of one."""
        return self.by_name[name].value / _WHOLE_PCT

    def at(self, name: str, value: float) -> Assumptions:
        """The same with another value of one, as it is tried out."""
        return Assumptions(by_name={**self.by_name, name: replace(self.by_name[name], value=value)})

    def known(self, name: str, *, error: float, provenance: str) -> Assumptions:
        """The same with a value that something tells: as it is, with a range of its error on both sides.

        Args:
            name: Its name.
            error: How far it may be off.
            provenance: What tells it.
        """
        one = self.by_name[name]
        known = replace(one, low=max(one.value - error, 1.0), high=one.value + error, provenance=provenance)
        return Assumptions(by_name={**self.by_name, name: known})

    def stated(self, values: Mapping[str, float], provenance: str = STATED) -> Assumptions:
        """The same with values that were stated; nobody doubts them any more, so they have no range.

        Args:
            values: Values by name.
            provenance: Where they come from.

        Raises:
            StudyError: A name is unknown, or a value cannot be meant.
        """
        for name, value in values.items():
            self._refuse(name, value)
        known = {
            name: replace(self.by_name[name], value=value, low=value, high=value, provenance=provenance) for name, value in values.items()
        }
        return Assumptions(by_name={**self.by_name, **known})

    def _refuse(self, name: str, value: float) -> None:
        if name not in self.by_name:
            near = ", ".join(get_close_matches(name[:100], self.by_name, n=3, cutoff=0.0))
            raise StudyError(f"Nothing called {name[:60]!r} is assumed.", field=Field.ASSUME, hint=f"Nearest: {near}.")
        one = self.by_name[name]
        most = _WHOLE_PCT if one.unit == "pct" and name != _MAY_PASS_A_HUNDRED else _MOST
        least_is_open = one.unit == "m" or name in {"stage_times_pct", "found_each_min"}
        if not (isfinite(value) and 0 <= value <= most) or (least_is_open and value == 0):
            span = f"{'above 0' if least_is_open else '0'} to {most:g}"
            raise StudyError(f"{name} cannot be {value:g} {one.unit}.", field=Field.ASSUME, hint=f"Give {span}.")


@lru_cache(maxsize=1)
def usual_assumptions() -> Assumptions:
    """The values as they come."""
    text = resources.files("marram.simulation.assumed").joinpath("assumed_values.toml").read_text(encoding="utf-8")
    return Assumptions(
        by_name={
            name: Assumed(
                name=name,
                means=raw["means"],
                value=float(raw["value"]),
                low=float(raw["low"]),
                high=float(raw["high"]),
                unit=raw["unit"],
                provenance=raw["from"],
            )
            for name, raw in tomllib.loads(text).items()
        }
    )
