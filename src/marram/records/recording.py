"""How each outcome is written down by hand: on whose paper, under which heading, and within which range."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from importlib import resources

from marram.records.outcomes import Outcome, find_outcome, outcomes

_HOUR_MIN = 60
_UNIT_WORDS = {"s": "seconds", "min": "minutes", "m": "metres", "count": "how many"}


class Recorder(StrEnum):
    """On whose paper an outcome is written down."""

    STARTER = "starter"
    OBSERVER = "observer"
    REFEREE = "referee"
    CARD = "card"
    FORM = "form"


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenOutcome:
    """An outcome as it is written down by hand.

    Attributes:
        outcome: The outcome.
        recorder: On whose paper.
        heading: Its column there, or the question that is put to players; empty where the trial itself asks.
        called: Under which name it is typed in: its heading, or where the trial itself asks what it is.
        between: Of a time that is written as two times of day, what happens at each; empty for anything else.
        ends: Of an answer in five steps, the words of the first and of the last; empty for anything else.
    """

    outcome: Outcome
    recorder: Recorder
    heading: str
    called: str
    between: tuple[str, ...]
    ends: tuple[str, ...]

    @property
    def how(self) -> str:
        """How a value is written and within which range, such as *min:s, 0:00 to 10:00*."""
        unit, least, most = self.outcome.unit, self.outcome.least, self.outcome.most
        if self.between:
            return "times of day, h:min"
        if unit == "yes-no":
            return "yes or no"
        if unit == "s":
            return f"min:s, {_apart(least)} to {_apart(most)}"
        if unit == "min" and most > _HOUR_MIN:
            return f"h:min, {_apart(least)} to {_apart(most)}"
        return self.how_in_unit

    @property
    def how_in_unit(self) -> str:
        """How a value is written as a bare number in its unit, such as *seconds, 5 to 900*."""
        if self.outcome.unit == "yes-no":
            return "1 for yes, 0 for no"
        return f"{_UNIT_WORDS.get(self.outcome.unit, self.outcome.unit)}, {self.outcome.least:g} to {self.outcome.most:g}"


def _apart(amount: float) -> str:
    """Minutes and seconds of seconds, hours and minutes of minutes, as they are written down."""
    return f"{int(amount) // 60}:{int(amount) % 60:02d}"


@lru_cache(maxsize=1)
def written_outcomes() -> Mapping[str, WrittenOutcome]:
    """How every outcome of the catalogue is written down, by its name, in the order of a sheet's columns."""
    text = resources.files("marram.records").joinpath("recording.toml").read_text(encoding="utf-8")
    return {
        key: WrittenOutcome(
            outcome=outcomes()[key],
            recorder=Recorder(raw["sheet"]),
            heading=raw["heading"],
            called=raw.get("called", raw["heading"]),
            between=tuple(raw.get("between", ())),
            ends=tuple(raw.get("ends", ())),
        )
        for key, raw in tomllib.loads(text).items()
    }


def outcome_written(name: str) -> Outcome:
    """The outcome by its name in the catalogue, or by what stands over its column on paper.

    Args:
        name: The name; case and spaces do not count in what stands on paper.

    Raises:
        RecordError: There is no such outcome; the error names the nearest three.
    """
    return outcomes()[found] if (found := _called().get(_plain(name))) is not None else find_outcome(name)


@lru_cache(maxsize=1)
def _called() -> Mapping[str, str]:
    return {_plain(one.called): key for key, one in written_outcomes().items()}


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()
