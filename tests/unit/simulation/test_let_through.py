"""Groups that let others through, worked by hand; where nobody has lost a place nothing is different."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from marram.core.errors import StudyError
from marram.simulation.pace.days_played import DaysPlayed, play_days
from marram.simulation.pace.groups_on_a_hole import Times
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.let_through import play_letting_through
from marram.simulation.pace.starting_sheet import GroupStart
from tests.support.reference_courses import MEANS, PARS, reference_holes

SLOW, QUICK = (8.0, 2.0, 8.0), (4.0, 2.0, 4.0)


def start(*minutes: float) -> list[GroupStart]:
    return [GroupStart(at_min=at, place=0, size=3) for at in minutes]


def two_par_4s(*groups: tuple[float, float, float]) -> tuple[list[PacedHole], list[Times]]:
    holes = [PacedHole(number=number, par=4, walk_on_min=0) for number in (1, 2)]
    return holes, [np.array(groups)[:, :, None]] * 2


def test_a_group_that_is_caught_with_a_clear_hole_ahead_lets_the_next_one_through() -> None:
    # Hole 1: the slow group clears at 18, the quick one behind it at 24. Hole 2: the slow one comes at 18 and would play from the
    # tee until 26; the quick one comes at 24, goes first, plays its second strokes by 30 and clears at 34. The slow one waits from
    # 18 to 30, is at its balls at 38, plays by 40 and clears at 48.
    played = play_letting_through(*two_par_4s(SLOW, QUICK), start(0, 10))
    assert played.ended[:, 0].tolist() == [48, 34]
    assert played.waited_on_tee_min[1, :, 0].tolist() == [12, 0]
    behind = play_days(*two_par_4s(SLOW, QUICK), start(0, 10))
    assert behind.ended[:, 0].tolist() == [36, 42]


def test_a_group_that_comes_later_is_not_waited_for() -> None:
    # The quick group clears hole 1 at 30, after the slow one has left the second tee at 26.
    played = play_letting_through(*two_par_4s(SLOW, QUICK), start(0, 20))
    assert played.ended[:, 0].tolist() == play_days(*two_par_4s(SLOW, QUICK), start(0, 20)).ended[:, 0].tolist()


def test_a_group_that_waits_itself_lets_nobody_through() -> None:
    # A first group takes 40 minutes on each green: whoever is behind it has lost no place.
    ahead = (4.0, 2.0, 40.0)
    given = (*two_par_4s(ahead, SLOW, QUICK), start(0, 10, 20))
    assert play_letting_through(*given).ended[:, 0].tolist() == play_days(*given).ended[:, 0].tolist()


def test_days_differ_in_who_lets_whom_through() -> None:
    holes, _ = two_par_4s(SLOW, QUICK)
    stages = [np.stack([np.array([SLOW, QUICK]), np.array([QUICK, SLOW])], axis=-1)] * 2
    played = play_letting_through(holes, stages, start(0, 10))
    assert played.ended[:, 0].tolist() == [48, 34]
    assert played.ended[:, 1].tolist() == play_days(holes, stages, start(0, 10)).ended[:, 1].tolist()


@pytest.mark.parametrize("waves_up", [False, True])
def test_where_all_are_equal_nobody_is_let_through(waves_up: bool) -> None:
    holes = reference_holes(waves_up=waves_up)
    stages = [np.tile(np.array(MEANS[par], dtype=float)[None, :, None], (6, 1, 1)) for par in PARS]
    groups = start(*(12.0 * number for number in range(6)))

    def of(played: DaysPlayed) -> Times:
        return np.concatenate([played.ended, played.waited_on_tee_min.sum(axis=0), played.waited_beyond_min.sum(axis=0)])

    assert_allclose(of(play_letting_through(holes, stages, groups)), of(play_days(holes, stages, groups)), atol=1e-9)


def test_a_round_is_still_playing_and_waiting() -> None:
    rng = np.random.default_rng(8)
    holes = reference_holes()
    stages = [np.array(MEANS[par])[None, :, None] * rng.uniform(0.3, 1.7, (8, len(MEANS[par]), 30)) for par in PARS]
    played = play_letting_through(holes, stages, start(*(10.0 * number for number in range(8))))
    playing = sum(times.sum(axis=1) for times in stages) + 17
    assert_allclose(played.round_min, playing + played.waiting_min, atol=1e-9)
    assert (np.diff(played.ended, axis=0) < 0).any()  # somebody was let through


def test_from_two_tees_nobody_is_let_through() -> None:
    with pytest.raises(StudyError, match="all start from one tee"):
        play_letting_through(*two_par_4s(SLOW, QUICK), [*start(0), GroupStart(at_min=0, place=1, size=3)])
