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
from marram.core.words import shortly


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


class Worse(StrEnum):
    """Which way an outcome gets worse."""

    UP = "up"
    DOWN = "down"
    EITHER = "either"


class Weighing(StrEnum):
    """How an outcome is weighed."""

    MEAN = "mean"
    LOG_MEAN = "log-mean"
    RATE = "rate"
    SHARE = "share"
    STEPS = "steps"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """What no value of an outcome goes beyond.

    Attributes:
        key: The key of the rule data that holds the limit.
        times: How many units of the outcome one unit of the key is.
    """

    key: str
    times: float


ASKED_BY_THE_TRIAL = frozenset({"asked_step", "asked_yes"})
"""Outcomes that answer a question which the trial itself asks, by its number."""

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
        worse: Which way it gets worse, where a guard does not say.
        by: Who records it, and with what.
        least: Smallest value that can be meant.
        most: Largest value that can be meant.
        limit: What the rules themselves let no value go beyond; None where they set no limit.
        counted_by: The outcome that counts how many values there should be; empty where none does.
        called: What its rows are called in a list.
        says_up: The sentence that says how much more there is, with ``{number}``, without its full stop.
        says_down: The same for less.
    """

    key: str
    means: str
    unit: str
    per: Per
    kind: Weighing
    worse: Worse
    by: str
    least: float
    most: float
    limit: Limit | None = None
    counted_by: str = ""
    called: str = ""
    says_up: str = ""
    says_down: str = ""

    @property
    def is_of_the_day(self) -> bool:
        """Whether a value belongs to the round or the hole as a whole, so that it is about every change that was in force."""
        return self.kind is Weighing.MEAN and self.per in {Per.GROUP_ROUND, Per.GROUP_HOLE, Per.PLAYER_ROUND}

    @property
    def is_answer(self) -> bool:
        """Whether players answer it."""
        return self.per is Per.ANSWER

    @property
    def is_one_each(self) -> bool:
        """Whether a group or a player has exactly one value in a round, so that one who has none is missing."""
        return self.per in {Per.GROUP_ROUND, Per.PLAYER_ROUND}

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
            worse=Worse(raw["worse"]),
            limit=Limit(**raw["limited_by"]) if "limited_by" in raw else None,
            counted_by=raw.get("counted_by", ""),
            called=raw["called"],
            says_up=raw["says"]["up"],
            says_down=raw["says"]["down"],
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
        near = ", ".join(get_close_matches(key[:100], outcomes(), n=3, cutoff=0.0))
        raise RecordError(
            f"The catalogue holds no outcome {shortly(key)}.", where="" if field else "outcome", field=field, hint=f"Nearest: {near}."
        )
    return found
