"""Identities of any queue on the pace of play: order kept, nobody idle who could play, waiting apart from playing, Little's law."""

from __future__ import annotations

from collections import deque

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.simulation.pace.days_played import DaysPlayed, play_days
from marram.simulation.pace.groups_on_a_hole import Times
from marram.simulation.pace.hole_stages import STAGES, PacedHole
from marram.simulation.pace.starting_sheet import GroupStart

Day = tuple[list[PacedHole], list[Times], list[GroupStart]]


@st.composite
def days_of_one_tee(draw: st.DrawFn) -> Day:
    pars = draw(st.lists(st.sampled_from([3, 4, 5]), min_size=1, max_size=6))
    holes = [
        PacedHole(number=number, par=par, walk_on_min=draw(st.floats(0, 5)), waves_up=draw(st.booleans()))
        for number, par in enumerate(pars, start=1)
    ]
    groups = draw(st.integers(1, 7))
    rng = np.random.default_rng(draw(st.integers(0, 2**32)))
    stages = [rng.uniform(0.0, 8.0, (groups, STAGES[par], 2)) for par in pars]
    return holes, stages, [GroupStart(at_min=draw(st.floats(0, 12)) + 12.0 * group, place=0, size=3) for group in range(groups)]


def plain_day(holes: list[PacedHole], stages: list[Times], starts: list[GroupStart], day: int) -> list[float]:
    """When each group ends, one day and one group after the other, in plain numbers: the twin of the kernel."""
    came = [start.at_min for start in starts]
    for hole, times in zip(holes, stages, strict=True):
        came = [cleared + hole.walk_on_min for cleared in _plain_hole(hole, came, times[:, :, day].tolist())]
    return [at - holes[-1].walk_on_min for at in came]


def _plain_hole(hole: PacedHole, came: list[float], stages: list[list[float]]) -> list[float]:
    if hole.par == 3 and hole.waves_up:
        return _plain_called_up(came, stages)
    second = third = clear = float("-inf")
    cleared = []
    for at, times in zip(came, stages, strict=True):
        if hole.par == 3:
            clear = max(at, clear) + sum(times)
        elif hole.par == 4:
            second = max(max(at, second) + times[0], clear) + times[1]
            clear = second + times[2]
        else:
            second = max(max(at, second) + times[0], third) + times[1]
            third = max(second + times[2], clear) + times[3]
            clear = third + times[4]
        cleared.append(clear)
    return cleared


def _plain_called_up(came: list[float], stages: list[list[float]]) -> list[float]:
    cleared: list[float] = []
    waiting = deque(zip(came, stages, strict=True))
    began = came[0]
    while waiting:
        _, (tee, walk, putting) = waiting.popleft()
        ready = max(began + tee + walk, cleared[-1] if cleared else float("-inf"))
        if waiting and waiting[0][0] <= ready:
            cleared.append(ready + waiting[0][1][0] + putting)
            began = ready
        else:
            cleared.append(ready + putting)
            began = max(waiting[0][0], cleared[-1]) if waiting else 0.0
    return cleared


@given(days_of_one_tee())
def test_the_kernel_equals_its_plain_twin(day: Day) -> None:
    played = play_days(*day)
    for number in (0, 1):
        assert played.ended[:, number].tolist() == pytest.approx(plain_day(*day, number), abs=1e-9)


def playing_min(holes: list[PacedHole], stages: list[Times], played: DaysPlayed) -> Times:
    """What each group needs without any waiting."""
    walks = sum(hole.walk_on_min for hole in holes[:-1])
    return np.asarray(sum(times.sum(axis=1) for times in stages) + walks, dtype=np.float64)


@given(days_of_one_tee())
def test_a_round_is_playing_and_waiting(day: Day) -> None:
    holes, stages, _ = day
    played = play_days(*day)
    called_up_min = played.round_min - playing_min(holes, stages, played) - played.waiting_min
    assert np.allclose(called_up_min, 0, atol=1e-9)
    assert played.waited_on_tee_min.min() >= 0
    assert played.waited_beyond_min.min() >= -1e-9


@given(days_of_one_tee())
def test_order_is_kept_and_the_first_group_never_waits_on_a_tee(day: Day) -> None:
    played = play_days(*day)
    assert (np.diff(played.ended, axis=0) >= -1e-9).all()
    assert (played.waited_on_tee_min[:, 0] == 0).all()


@given(days_of_one_tee())
def test_longer_stages_and_walks_never_end_a_day_sooner_without_calling_up(day: Day) -> None:
    holes, stages, starts = day
    holes = [PacedHole(number=hole.number, par=hole.par, walk_on_min=hole.walk_on_min) for hole in holes]
    longer = [times + 0.5 for times in stages]
    assert (play_days(holes, longer, starts).ended >= play_days(holes, stages, starts).ended).all()


@given(days_of_one_tee())
def test_a_group_begins_as_soon_as_it_may(day: Day) -> None:
    """Work is conserved: where a group waited on the tee of a par 3 without calling up, it began in the minute that the green was clear."""
    holes, stages, starts = day
    holes = [PacedHole(number=1, par=3, walk_on_min=0)]
    stages = [stages[0][:, :3]]
    played = play_days(holes, stages, starts)
    began = played.started[:, None] + played.waited_on_tee_min[0]
    waited = played.waited_on_tee_min[0, 1:] > 0
    assert np.allclose(began[1:][waited], played.ended[:-1][waited])


@given(days_of_one_tee())
def test_groups_on_the_course_are_their_rate_times_their_time(day: Day) -> None:
    """Little's law: the mean number on the course, counted minute by minute, is groups an hour times hours of a round."""
    played = play_days(*day)
    began, ended = played.started, played.ended[:, 0]
    moments = np.sort(np.concatenate([began, ended]))
    middle, length = (moments[1:] + moments[:-1]) / 2, np.diff(moments)
    on_course = ((began[:, None] <= middle) & (middle < ended[:, None])).sum(axis=0)
    span = moments[-1] - moments[0]
    if span > 0:
        rate = len(began) / span
        assert (on_course * length).sum() / span == pytest.approx(rate * played.round_min[:, 0].mean(), abs=1e-9)
