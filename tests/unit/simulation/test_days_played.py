"""Days of play, worked by hand: one tee, two tees, every hole; and sheets and stage times that cannot be played."""

from __future__ import annotations

import numpy as np
import pytest

from marram.core.errors import StudyError
from marram.simulation.pace.days_played import DaysPlayed, play_days
from marram.simulation.pace.hole_stages import PacedHole
from marram.simulation.pace.starting_sheet import GroupStart, StartFrom, group_sizes, starting_sheet


def day(pars: list[int], stages: dict[int, list[float]], starts: list[tuple[float, int]], walk: float = 0.0) -> DaysPlayed:
    holes = [PacedHole(number=number, par=par, walk_on_min=walk) for number, par in enumerate(pars, start=1)]
    times = [np.tile(np.array(stages[par], dtype=float)[None, :, None], (len(starts), 1, 1)) for par in pars]
    return play_days(holes, times, [GroupStart(at_min=at, place=place, size=3) for at, place in starts])


@pytest.mark.parametrize(("interval", "waits"), [(8.0, [0.0, 1.0, 2.0, 3.0]), (10.0, [0.0, 0.0, 0.0, 0.0])])
def test_waiting_on_the_third_tee_is_that_of_the_manual(interval: float, waits: list[float]) -> None:
    """Pace of Play Manual, 2016, section 2.2a: holes of 12, 12 and 9 minutes, groups of three; group n waits n - 1 minutes at 8."""
    played = day([4, 4, 3], {4: [5, 2, 5], 3: [3, 2, 4]}, [(interval * number, 0) for number in range(4)])
    assert played.waited_on_tee_min[2, :, 0].tolist() == pytest.approx(waits)
    assert played.round_min[:, 0].tolist() == pytest.approx([33 + wait for wait in waits])


def test_the_walk_between_holes_counts_and_the_last_one_does_not() -> None:
    assert day([4, 4], {4: [5, 2, 5]}, [(0, 0)], walk=1.5).round_min[0, 0] == pytest.approx(12 + 1.5 + 12)


def test_groups_from_two_tees_go_on_where_the_others_began() -> None:
    # Hole 1: a at 0, clear at 12; c behind it begins at 7, clear at 19. Hole 2: b at 0, clear at 12. a comes to hole 2 at 12, clear at 24;
    # c comes at 19, where the second strokes ahead were played at 12 + 7 = 19: no waiting, clear at 31. b plays hole 1 from 12: behind c,
    # whose second strokes were played at 14 (at its balls at 12, green clear at 12, then 2): waits 2, at its balls at 19, clear at 26.
    played = day([4, 4], {4: [5, 2, 5]}, [(0, 0), (0, 1), (0, 0)])
    assert played.ended[:, 0].tolist() == pytest.approx([24, 26, 31])
    assert played.waited_on_tee_min[:, :, 0].tolist() == [[0, 2, 7], [0, 0, 0]]


def test_groups_that_start_on_every_hole_play_round_the_course() -> None:
    # Three equal par 4s, one group on each: all move on together every 12 minutes and nobody waits.
    played = day([4, 4, 4], {4: [5, 2, 5]}, [(0, 0), (0, 1), (0, 2)])
    assert played.ended[:, 0].tolist() == pytest.approx([36, 36, 36])
    assert played.waiting_min.sum() == 0


def test_groups_called_up_on_every_hole_at_once_are_refused() -> None:
    holes = [PacedHole(number=number, par=3, walk_on_min=0, waves_up=True) for number in (1, 2)]
    starts = [GroupStart(at_min=0, place=0, size=3), GroupStart(at_min=0, place=1, size=3)]
    with pytest.raises(StudyError, match="nobody can begin"):
        play_days(holes, [np.ones((2, 3, 1))] * 2, starts)


def test_groups_called_up_from_two_tees_are_settled() -> None:
    # Hole 1 is a par 3 with calling up (3, 2, 4), hole 2 a par 4 (5, 2, 5). a starts on 1, b on 2, both at 0. b comes to hole 1 at 12,
    # after a has cleared it at 9: nobody waits, a ends at 9 + 12 = 21, b at 12 + 9 = 21.
    holes = [PacedHole(number=1, par=3, walk_on_min=0, waves_up=True), PacedHole(number=2, par=4, walk_on_min=0)]
    times = [np.tile(np.array(one, dtype=float)[None, :, None], (2, 1, 1)) for one in ([3, 2, 4], [5, 2, 5])]
    played = play_days(holes, times, [GroupStart(at_min=0, place=0, size=3), GroupStart(at_min=0, place=1, size=3)])
    assert played.ended[:, 0].tolist() == pytest.approx([21, 21])


def test_stage_times_that_do_not_fit_are_refused() -> None:
    hole = PacedHole(number=4, par=5, walk_on_min=0)
    with pytest.raises(StudyError, match="hole 4"):
        play_days([hole], [np.ones((1, 3, 2))], [GroupStart(at_min=0, place=0, size=3)])
    with pytest.raises(StudyError, match="needs holes"):
        play_days([], [], [])


def test_a_field_is_grouped_with_the_smaller_groups_first() -> None:
    assert group_sizes(9, 3) == (3, 3, 3)
    assert group_sizes(10, 4) == (3, 3, 4)
    assert group_sizes(11, 3) == (2, 3, 3, 3)
    assert group_sizes(2, 4) == (2,)
    assert group_sizes(5, 4) == (2, 3)


@pytest.mark.parametrize(
    ("players", "size", "said"), [(0, 3, "field of 0"), (500, 3, "field of 500"), (9, 2, "alone"), (9, 5, "Groups of 5")]
)
def test_a_field_that_cannot_be_grouped_is_refused(players: int, size: int, said: str) -> None:
    with pytest.raises(StudyError, match=said):
        group_sizes(players, size)


def test_the_sheet_of_one_tee_of_two_and_of_every_hole() -> None:
    one = starting_sheet((3, 3, 3), interval_min=10, holes=18, start_from=StartFrom.ONE_TEE)
    assert [(start.at_min, start.place) for start in one] == [(0, 0), (10, 0), (20, 0)]
    two = starting_sheet((3, 3, 3), interval_min=10, holes=18, start_from=StartFrom.TWO_TEES)
    assert [(start.at_min, start.place) for start in two] == [(0, 0), (0, 9), (10, 0)]
    every = starting_sheet((3,) * 20, interval_min=10, holes=18, start_from=StartFrom.EVERY_HOLE)
    assert [start.place for start in every] == [*range(18), 0, 1]
    assert {start.at_min for start in every} == {0.0}


@pytest.mark.parametrize(
    ("groups", "interval", "holes", "start_from", "said"),
    [
        (3, 0, 18, StartFrom.ONE_TEE, "interval of 0"),
        (3, 61, 18, StartFrom.ONE_TEE, "interval of 61"),
        (3, 10, 9, StartFrom.TWO_TEES, "no second tee"),
        (120, 10, 18, StartFrom.ONE_TEE, "hours after the first"),
        (40, 10, 18, StartFrom.TWO_TEES, "come across to the other tee"),
        (37, 10, 18, StartFrom.EVERY_HOLE, "cannot all start"),
    ],
)
def test_a_sheet_that_cannot_be_played_is_refused(groups: int, interval: float, holes: int, start_from: StartFrom, said: str) -> None:
    with pytest.raises(StudyError, match=said):
        starting_sheet((3,) * groups, interval_min=interval, holes=holes, start_from=start_from)
