"""The catalogue of outcomes: what may be observed, in which unit, for what, and how it is weighed."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from functools import lru_cache
from importlib import resources

from marram.core.errors import RecordError


class Per(StrEnum):
    """What one value of an outcome belongs to."""

    GROUP_ROUND = "group-round"
    GROUP_HOLE = "group-hole"
    PLAYER_ROUND = "player-round"
    RULING = "ruling"
    SEARCH = "search"
    DROP = "drop"
    PUTT = "putt"
    ANSWER = "answer"


class Weighing(StrEnum):
    """How an outcome is weighed."""

    MEAN = "mean"
    LOG_MEAN = "log-mean"
    RATE = "rate"
    SHARE = "share"
    STEPS = "steps"


SHARE = "of all"
"""Unit of a share, as a part of one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """Something that a trial may observe.

    Attributes:
        key: Its name.
        means: What it is.
        unit: Unit of a value; ``yes-no`` is written 1 or 0, ``step`` is a step of five.
        per: What one value belongs to.
        kind: How it is weighed.
        by: Who records it, and with what.
        least: Smallest value that can be meant.
        most: Largest value that can be meant.
    """

    key: str
    means: str
    unit: str
    per: Per
    kind: Weighing
    by: str
    least: float
    most: float

    @property
    def effect_unit(self) -> str:
        """The unit of an effect on it: what is yes or no is weighed by its share of all."""
        return SHARE if self.kind is Weighing.SHARE else self.unit

    @property
    def unit_words(self) -> str:
        """The unit of an effect on it, in words."""
        is_share = self.kind is Weighing.SHARE
        return "parts of one, such as 0.1 for ten in a hundred" if is_share else f"{self.unit} for each {self.per.value}"


@lru_cache(maxsize=1)
def outcomes() -> Mapping[str, Outcome]:
    """Every outcome, by its name."""
    text = resources.files("marram.records").joinpath("outcomes.toml").read_text(encoding="utf-8")
    return {
        key: Outcome(
            key=key,
            means=raw["means"],
            unit=raw["unit"],
            per=Per(raw["per"]),
            kind=Weighing(raw["kind"]),
            by=raw["by"],
            least=float(raw["least"]),
            most=float(raw["most"]),
        )
        for key, raw in tomllib.loads(text).items()
    }


def find_outcome(key: str, *, field: str = "") -> Outcome:
    """The outcome of that name.

    Raises:
        RecordError: The catalogue does not hold it; the error names the nearest three.
    """
    found = outcomes().get(key)
    if found is None:
        near = ", ".join(get_close_matches(key, outcomes(), n=3, cutoff=0.0))
        raise RecordError(
            f"The catalogue holds no outcome {key!r}.", where="" if field else "outcome", field=field, hint=f"Nearest: {near}."
        )
    return found
