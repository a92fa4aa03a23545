"""Play days under one set of rules, and sum them up day by day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from marram.simulation.campaign.drawn_days import DrawnDays
from marram.simulation.campaign.field_of_day import FieldOfDay
from marram.simulation.campaign.what_happens import LEAST_OF_A_STAGE, Counted, Happened, Rules, happens, kept_waiting_for_turn_min
from marram.simulation.pace.days_played import DaysPlayed, play_days
from marram.simulation.pace.groups_on_a_hole import Times
from marram.simulation.pace.let_through import play_letting_through

LONE_ROUND = "lone_round_min"
"""The round of a group that has the course to itself."""
_ON_THE_WAY = {3: 1, 4: 1, 5: 2}


@dataclass(frozen=True, slots=True, kw_only=True)
class SumOfDays:
    """An outcome on each day: its total, and over how many it is counted.

    Attributes:
        total: Of each day.
        count: Of each day.
    """

    total: NDArray[np.float64]
    count: NDArray[np.float64]

    @property
    def mean(self) -> float:
        """The outcome over all days; 0 where nothing was counted."""
        counted = float(self.count.sum())
        return float(self.total.sum()) / counted if counted else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ArmPlayed:
    """Days under one set of rules, summed up.

    Attributes:
        sums: Each outcome by day.
        by_group_min: Round time of each group; shape (groups, days).
        waiting_by_hole_min: Waiting of a group for each hole, on its tee and beyond; shape (holes, days).
    """

    sums: Mapping[str, SumOfDays]
    by_group_min: Times
    waiting_by_hole_min: Times


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedOut:
    """Days under one set of rules, with every group.

    Attributes:
        played: Who waited where, and when each group ended.
        playing_min: Playing time of each group, without any waiting; shape (groups, days).
        happened: What happened on each hole.
    """

    played: DaysPlayed
    playing_min: Times
    happened: tuple[Happened, ...]


def play_out(rules: Rules, field: FieldOfDay, drawn: DrawnDays) -> PlayedOut:
    """Play days under one set of rules.

    Args:
        rules: The rules.
        field: Holes and groups.
        drawn: What chance brings on the days.
    """
    happened = tuple(happens(rules, field, drawn, place) for place in range(len(field.holes)))
    stages = [_stages(rules, field, drawn, place, happened[place]) for place in range(len(field.holes))]
    playing = np.asarray(sum(times.sum(axis=1) for times in stages) + field.walks_min, dtype=np.float64)
    play = play_letting_through if field.lets_through else play_days
    return PlayedOut(played=play(field.holes, stages, field.starts), playing_min=playing, happened=happened)


def play_arm(rules: Rules, field: FieldOfDay, drawn: DrawnDays) -> ArmPlayed:
    """Play days under one set of rules and sum them up: see `play_out`."""
    return summed(play_out(rules, field, drawn))


def summed(days: PlayedOut) -> ArmPlayed:
    """The sums of days that were played out."""
    rounds = days.played.round_min
    once = np.full(rounds.shape[1], float(rounds.shape[0]))
    sums = {name: SumOfDays(total=total.sum(axis=0), count=count.sum(axis=0)) for name, (total, count) in counted_in(days).items()}
    of_rounds = {"round_min": rounds, "waiting_min": days.played.waiting_min, LONE_ROUND: days.playing_min}
    return ArmPlayed(
        sums={**sums, **{name: SumOfDays(total=each.sum(axis=0), count=once) for name, each in of_rounds.items()}},
        by_group_min=rounds,
        waiting_by_hole_min=(days.played.waited_on_tee_min + days.played.waited_beyond_min).mean(axis=1),
    )


def counted_in(days: PlayedOut) -> Counted:
    """Outcomes counted over all holes, for each group and day."""
    names = days.happened[0].counted
    return {name: tuple(sum(one.counted[name][part] for one in days.happened) for part in (0, 1)) for name in names}  # type: ignore[misc]


def joined(arms: Sequence[ArmPlayed]) -> ArmPlayed:
    """Days that were played apart, one after the other."""
    return ArmPlayed(
        sums={
            name: SumOfDays(
                total=np.concatenate([arm.sums[name].total for arm in arms]), count=np.concatenate([arm.sums[name].count for arm in arms])
            )
            for name in arms[0].sums
        },
        by_group_min=np.concatenate([arm.by_group_min for arm in arms], axis=1),
        waiting_by_hole_min=np.concatenate([arm.waiting_by_hole_min for arm in arms], axis=1),
    )


def _stages(rules: Rules, field: FieldOfDay, drawn: DrawnDays, place: int, happened: Happened) -> Times:
    """Stage times of a hole; shape (groups, stages, days)."""
    assumed, par = rules.assumed, field.holes[place].par
    spread = assumed.share("group_spread_pct")
    pace = np.exp(spread * drawn.groups - spread**2 / 2) * assumed.share("stage_times_pct") * field.size_factors
    means = np.array(field.means[place])[None, :, None]
    stages = means * (1 + assumed.share("stage_spread_pct") * drawn.stages[place]) * pace
    stages = stages + kept_waiting_for_turn_min(rules, field, par)
    stages[:, 0] += happened.after_tee_min
    stages[:, _ON_THE_WAY[par]] += happened.on_the_way_min
    least = LEAST_OF_A_STAGE * stages[:, -1]
    stages[:, -1] = np.maximum(stages[:, -1] + happened.on_green_min, least)
    return np.asarray(stages, dtype=np.float64)


def first_days(arm: ArmPlayed, days: int) -> ArmPlayed:
    """The first so many days of those that were played."""
    return ArmPlayed(
        sums={name: SumOfDays(total=one.total[:days], count=one.count[:days]) for name, one in arm.sums.items()},
        by_group_min=arm.by_group_min[:, :days],
        waiting_by_hole_min=arm.waiting_by_hole_min[:, :days],
    )
