"""What a forecast is asked with: the field of the day, how many days, and what is stated in place of assumptions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from marram.core.errors import StudyError
from marram.core.field_names import Field
from marram.records.outcomes import find_outcome
from marram.records.timings import HoleTiming
from marram.simulation.campaign.days_at_work import MOST_DAYS
from marram.simulation.pace.starting_sheet import StartFrom

FEWEST_DAYS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastAsked:
    """What a forecast is asked with.

    Attributes:
        players: Players of the field.
        group_size: Players of a group.
        interval_min: Minutes between groups of one tee.
        start_from: Where groups start.
        waves_up: Whether groups are called up on par 3s.
        lets_through: Whether a group that has lost its place lets the next one through.
        days: Days that are played under each set of rules.
        seed: Seed of all chance.
        spread: By outcome, how far days of a pair differ besides by the chance of play, as a standard deviation.
        stated: Values stated in place of assumptions.
        stopped_share: Share of holes that players would stop at the maximum score; None where nobody says.
        proposed_interval_min: Start interval that is proposed together with the changes; None where the present one stays.
        workers: Processes that share the days.
        timings: Local timings, which take the place of the table of stage times; none where nobody timed.
        is_independent: Whether present and proposed rules are played on days of their own, as a season would; else on the same days.
    """

    players: int = 75
    group_size: int = 3
    interval_min: float = 10.0
    start_from: StartFrom = StartFrom.ONE_TEE
    waves_up: bool = False
    lets_through: bool = False
    days: int = 200
    seed: int = 1
    spread: Mapping[str, float] = field(default_factory=dict)
    stated: Mapping[str, float] = field(default_factory=dict)
    stopped_share: float | None = None
    proposed_interval_min: float | None = None
    workers: int = 1
    timings: tuple[HoleTiming, ...] = ()
    is_independent: bool = False


def refuse_asked(asked: ForecastAsked) -> None:
    """See that a forecast can be made as it is asked.

    Raises:
        RecordError: A spread is given for no outcome.
        StudyError: A number cannot be meant.
    """
    if not FEWEST_DAYS <= asked.days <= MOST_DAYS:
        raise StudyError(f"{asked.days} days cannot be played.", field=Field.DAYS, hint=f"Give {FEWEST_DAYS} to {MOST_DAYS}.")
    if asked.stopped_share is not None and not 0 <= asked.stopped_share <= 1:
        message = f"A share of {asked.stopped_share:g} of the holes cannot be stopped."
        raise StudyError(message, field=Field.STOPPED_SHARE, hint="Give a part of one, such as 0.05.")
    for name, sd in asked.spread.items():
        outcome = find_outcome(name, field=Field.SPREAD)
        if not 0 < sd < outcome.most:
            message = f"Days cannot differ by {sd:g} {outcome.effect_unit} in {outcome.called}."
            raise StudyError(message, field=Field.SPREAD, hint="Give what a pilot shows: the standard deviation between days of a pair.")


def start_named(name: str) -> StartFrom:
    """Where groups start, by its name.

    Raises:
        StudyError: There is no such start.
    """
    if name not in list(StartFrom):
        raise StudyError(f"Nobody starts from {name[:40]!r}.", hint=f"Known: {', '.join(StartFrom)}.")
    return StartFrom(name)
