"""What a plan of a trial holds, as it is written down and frozen, and the stamps that keep it from being altered unseen."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace

import msgspec
from msgspec import UNSET, UnsetType

from marram.evidence.planning.spread_of_past import SpreadOfPast
from marram.interchange.books.overlay_writing import write_overlay
from marram.office.trials.past_season import AtUpperLimit, PlannedPast, PlannedRows
from marram.records.rows import Arm
from marram.rulebook.overlays.overlay import Overlay
from marram.rulebook.overlays.trial_terms import Life

PLAN_SCHEMA = "marram.trial-plan/1"
"""Which shape a plan's file has, and in which version."""
BY_DAYS, BY_EXERCISE = "the days", "a station or a clarity exercise"
"""What judges a change."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """What a plan rests on and only a pilot can tell.

    Attributes:
        sd: Standard deviation of the difference of the two days of a pair, by outcome, in its unit.
        met: How often a player meets a change in a round, by number of the change.
        players: Players in the field of a day.
        lost: Part of the pairs that is expected to be lost, to weather or a missing day.
        past: What an earlier season told; empty where none was asked.
    """

    sd: Mapping[str, float]
    met: Mapping[int, float]
    players: int
    lost: float = 0.0
    past: tuple[SpreadOfPast, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedDays:
    """A pair of days, as the coin fell: under which rules its first and its second day is played."""

    pair: str
    first_day: str
    second_day: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnUnit:
    """Something that was drawn, as it fell: a group of a day, a day of half of the field.

    Attributes:
        unit: Its name.
        rules: Under which rules it plays, one for each of its rounds or spans of time.
        day: Name of its day or event; empty where it has none.
        group: Name of the group; empty where it is none.
        period: The part of the day that it plays in, or its block of days; empty where there is one.
        changes: Numbers of the changes that are on; not there where all of the trial are.
    """

    unit: str
    rules: tuple[Arm, ...]
    day: str = ""
    group: str = ""
    period: str = ""
    changes: tuple[int, ...] | UnsetType = UNSET


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedAlias:
    """What no day tells from a change.

    Attributes:
        change: Number of the change.
        pairs: Pairs of changes whose doing more together than each alone would look the same.
        meeting: Those of the pairs that touch the same.
        larger: How many sets of three changes or more would look the same too.
        words: The same in a sentence, with the changes by name.
    """

    change: int
    pairs: tuple[tuple[int, ...], ...]
    meeting: tuple[tuple[int, ...], ...]
    larger: int
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedGuard:
    """What a change must not make worse, and by how much it may."""

    outcome: str
    margin: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedOutlook:
    """How the season may end if the effect were so large: drawn many times, with guards, lost days and all changes together.

    Attributes:
        supposed: The supposed effect, in the unit of the outcome and the way that is wanted.
        did: Chance of *did what it was meant to*, as a part of 1; of a change that others share an outcome with, for all together.
        mixed: Chance of *mixed*.
        did_not: Chance of *did not do what it was meant to*.
        open: Chance of *open*.
        monte_carlo_error: How far each chance may be off because it was drawn, as a standard deviation.
        ended_at: Chance that the line stands at each planned look before the last.
    """

    supposed: float
    did: float
    mixed: float
    did_not: float
    open: float
    monte_carlo_error: float
    ended_at: tuple[float, ...] | UnsetType = UNSET


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedChange:
    """One change in a plan. Where the days do not judge it, only the first three members and the guards are there.

    Attributes:
        change: Its number.
        key: Its key.
        judged_by: What judges it.
        guards: What it must not make worse.
        outcome: The outcome that is to show it.
        unit: Unit of the effect.
        direction: Which way it should go.
        matters: Smallest effect that matters.
        sd_of_difference: Standard deviation of the difference of the two days of a pair, or of the two rounds of what was drawn.
        least_effect: Smallest effect that the plan finds with its power.
        pairs_needed: Pairs that would find what matters; None where more than a plan may have would be needed.
        sd_between_groups: Standard deviation between the groups of a day; there for groups drawn within a day alone.
        units_needed: Groups, or what else is drawn singly, that would find what matters; None as for pairs.
        expected_meetings: How often players are expected to meet it on trial days; None where nobody said.
        together: Other changes that are to move the same: no day will say which of them did it.
        outlook: How the season may end, for several supposed effects.
        outlook_lacks: Guards whose spread nobody gave: the outlook is drawn without them, and the good word is less likely than it says.
        at_upper_limit: The same where days differ as much as the earlier season leaves open; not there where the spread was told.
    """

    change: int
    key: str
    judged_by: str
    guards: tuple[PlannedGuard, ...]
    outcome: str | UnsetType = UNSET
    unit: str | UnsetType = UNSET
    direction: str | UnsetType = UNSET
    matters: float | UnsetType = UNSET
    sd_of_difference: float | UnsetType = UNSET
    least_effect: float | UnsetType = UNSET
    pairs_needed: int | None | UnsetType = UNSET
    sd_between_groups: float | UnsetType = UNSET
    units_needed: int | None | UnsetType = UNSET
    expected_meetings: float | None | UnsetType = UNSET
    together: tuple[int, ...] | UnsetType = UNSET
    outlook: tuple[PlannedOutlook, ...] | UnsetType = UNSET
    outlook_lacks: tuple[str, ...] | UnsetType = UNSET
    at_upper_limit: AtUpperLimit | UnsetType = UNSET


@dataclass(frozen=True, slots=True, kw_only=True)
class FrozenLook:
    """A look at the trial: after how many pairs, and how many standard errors an effect must then lie from nothing."""

    pairs: int
    bound: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedTrial:
    """A plan as it is frozen. Its members are those of the file: the stamp is that of their text.

    Attributes:
        trial: Title of the trial.
        trial_stamp: Its stamp.
        design: What the coin draws.
        power: Chance of finding the least effect.
        pairs: The pairs, as the coin fell.
        seed_commitment: What is made public of the seed before the first day.
        changes: The changes.
        drawn: What was drawn besides pairs of days, such as groups; not there for paired days.
        advice: What must hold for the design to be believed; not there for paired days.
        adjust: What the differences of pairs of days are adjusted for; not there where nothing is.
        looks: Looks at the trial, the last at its end; not there where none is planned before it.
        aliases: What no day tells from each change; there for days with some of the changes alone.
        past: What an earlier season told of the spread; not there where none was asked.
        rows_needed: Answers and counted rounds that each change needs; not there where no earlier season was asked.
    """

    trial: str
    trial_stamp: str
    design: str
    power: float
    pairs: tuple[PlannedDays, ...]
    seed_commitment: str
    changes: tuple[PlannedChange, ...]
    drawn: tuple[DrawnUnit, ...] | UnsetType = UNSET
    advice: tuple[str, ...] | UnsetType = UNSET
    adjust: tuple[str, ...] | UnsetType = UNSET
    looks: tuple[FrozenLook, ...] | UnsetType = UNSET
    aliases: tuple[PlannedAlias, ...] | UnsetType = UNSET
    past: tuple[PlannedPast, ...] | UnsetType = UNSET
    rows_needed: tuple[PlannedRows, ...] | UnsetType = UNSET

    @property
    def stamp(self) -> str:
        """Stamp of the plan: any other member or value gives another."""
        return stamp_of(frozen_text(msgspec.to_builtins(self)))


def trial_stamp(trial: Overlay) -> str:
    """Short digest of everything that a trial changes, expects and asks; its dates and where it stands leave it as it is."""
    return stamp_of(write_overlay(replace(trial, life=Life())))


def stamp_of(text: str) -> str:
    """Short digest of a text."""
    digest = hashlib.sha256(text.encode()).hexdigest()
    return f"{digest[:4]} {digest[4:8]}"


def frozen_text(content: object) -> str:
    """The text whose digest is the stamp of a plan; it stays as it is, or every plan that was frozen would look altered."""
    return json.dumps(content, sort_keys=True, ensure_ascii=False, indent=1)
