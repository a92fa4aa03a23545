"""Seasons of paired days played out row by row: weather that a pair shares, days that differ, queues of groups, players who come again,
rows that were lost, events that hardly ever happen, and answers in five steps.

What is true of a scene is worked out here from its own numbers, apart from the code that weighs it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import erf, exp, sqrt

import numpy as np

from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from tests.support.seasons import days_of

CUTS = (-1.2, -0.4, 0.3, 1.1)
"""Where the answer of a player goes from one step to the next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What a season is played with. Effects are those of the trial rules; spreads are standard deviations.

    Attributes:
        pairs: Pairs of days.
        groups: Groups of two players on a day.
        round_min: Effect on the time of a round.
        strokes: Effect on the strokes of a round.
        rulings: How many times as often a ruling is asked for.
        ruling_s: How many times as long a ruling takes.
        disputes: How many disputes a group has in a round, in mean, under either rules.
        liking: By how much answers on trial days move, on the scale of `CUTS`.
        day_min: Spread of the round between the days of a pair.
        tail: Whether bad days are much worse than good days are good.
        queue: Correlation of the time of a group with that of the group ahead.
        pool: Players of whom the field of a day is drawn.
        lost_trial: Part of the rows of trial days that is lost.
        lost_ordinary: The same for ordinary days.
    """

    pairs: int = 10
    groups: int = 12
    round_min: float = 0.0
    strokes: float = 0.0
    rulings: float = 1.0
    ruling_s: float = 1.0
    disputes: float = 0.02
    liking: float = 0.0
    day_min: float = 4.0
    tail: bool = False
    queue: float = 0.5
    pool: int = 120
    lost_trial: float = 0.0
    lost_ordinary: float = 0.0


GROUP_MIN, ROUND_STROKES, DAY_STROKES, ABILITY = 8.0, 3.0, 0.5, 6.0
DAY_RULINGS, RULINGS = 0.25, 1.5
DAY_SECONDS, SECONDS = 0.15, 0.5
DAY_LIKING, PLAYER_LIKING = 0.3, 0.8


def play(scene: Scene, seed: int) -> TrialRecords:
    """One season of a scene."""
    chance = np.random.default_rng([seed, 77])
    days = days_of(scene.pairs)
    weather = chance.normal(0, 10, scene.pairs)
    ability, liking = chance.normal(0, ABILITY, scene.pool), chance.normal(0, PLAYER_LIKING, scene.pool)
    rows = [
        row
        for day in days
        for row in _day(scene, day, float(weather[int(day.pair[1:])]), ability, liking, chance)
        if chance.random() >= (scene.lost_trial if day.arm is Arm.TRIAL else scene.lost_ordinary)
    ]
    return TrialRecords(days=days, observations=tuple(rows))


def _day(
    scene: Scene,
    day: TrialDay,
    weather: float,
    ability: np.ndarray,
    liking: np.ndarray,
    chance: np.random.Generator,
) -> Iterator[Observation]:
    is_trial = day.arm is Arm.TRIAL
    field = chance.choice(scene.pool, 2 * scene.groups, replace=False)
    bad = chance.gamma(1.5, 1 / sqrt(1.5)) - sqrt(1.5) if scene.tail else chance.normal()
    minutes = 240 + weather + scene.day_min * bad + (scene.round_min if is_trial else 0)
    day_strokes = 90 + weather / 10 + chance.normal(0, DAY_STROKES) + (scene.strokes if is_trial else 0)
    often = RULINGS * chance.gamma(1 / DAY_RULINGS**2, DAY_RULINGS**2) * (scene.rulings if is_trial else 1)
    long = chance.normal(np.log(90), DAY_SECONDS) + (np.log(scene.ruling_s) if is_trial else 0)
    mood = chance.normal(0, DAY_LIKING) + (scene.liking if is_trial else 0)
    late = chance.normal(0, 1)
    for group in range(scene.groups):
        name = f"g{group}"
        late = scene.queue * late + sqrt(1 - scene.queue**2) * chance.normal()
        yield Observation(day=day.day, outcome="round_min", value=minutes + GROUP_MIN * late, group=name)
        asked = int(chance.poisson(often))
        yield Observation(day=day.day, outcome="rulings", value=asked, group=name, change=2)
        yield Observation(day=day.day, outcome="disputes", value=int(chance.poisson(scene.disputes)), group=name, change=2)
        for _ in range(asked):
            yield Observation(day=day.day, outcome="ruling_s", value=exp(chance.normal(long, SECONDS)), group=name, change=3)
        for player in field[2 * group : 2 * group + 2]:
            who = f"m{player}"
            strokes = day_strokes + ability[player] + chance.normal(0, ROUND_STROKES)
            yield Observation(day=day.day, outcome="strokes", value=float(strokes), group=name, player=who)
            felt = liking[player] + mood + chance.normal()
            step = 1 + sum(felt > cut for cut in CUTS)
            yield Observation(day=day.day, outcome="fair", value=float(step), group=name, player=who, change=1)


def round_sd(scene: Scene) -> float:
    """Standard deviation of the difference of the two days of a pair in the mean time of a round."""
    groups, rho = scene.groups, scene.queue
    alike = sum(2 * (groups - lag) * rho**lag for lag in range(1, groups))
    return sqrt(2 * (scene.day_min**2 + GROUP_MIN**2 * (groups + alike) / groups**2))


def strokes_sd(scene: Scene) -> float:
    """The same for the mean strokes; that the field is drawn from few players makes it a little smaller."""
    players = 2 * scene.groups
    of_ability = ABILITY**2 / players * (1 - players / scene.pool)
    return sqrt(2 * (DAY_STROKES**2 + of_ability + ROUND_STROKES**2 / players))


def share_of_upper_two(scene: Scene, *, is_trial: bool) -> float:
    """The share of answers 4 and 5 among all who could be asked on all days that could be."""
    return 1 - _below(CUTS[2], scene.liking if is_trial else 0.0)


def chance_of_better(scene: Scene) -> float:
    """The chance that an answer on a trial day is higher than one on an ordinary day, ties counted half."""
    trial, ordinary = (_steps(shift) for shift in (scene.liking, 0.0))
    return sum(
        one * other * (0.5 if step == against else float(step > against))
        for step, one in enumerate(trial)
        for against, other in enumerate(ordinary)
    )


def _below(cut: float, shift: float) -> float:
    spread = sqrt(1 + DAY_LIKING**2 + PLAYER_LIKING**2)
    return 0.5 * (1 + erf((cut - shift) / spread / sqrt(2)))


def _steps(shift: float) -> list[float]:
    up_to = [0.0, *(_below(cut, shift) for cut in CUTS), 1.0]
    return [high - low for low, high in zip(up_to, up_to[1:], strict=False)]
