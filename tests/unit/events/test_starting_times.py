"""Starting times: groups, times, empty times and the interval that leaves room."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.core.errors import EventError
from marram.events.starting_times import empty_times, groups_of, is_interval_long_enough, starting_sheet


def test_ninety_players_in_threes_ten_minutes_apart() -> None:
    """Thirty groups from 8:00: the last 290 minutes later, at 12:50."""
    assert groups_of(90, 3) == 30
    sheet = starting_sheet(30, first_min=480, interval_min=10)
    assert (sheet.starts_min[0], sheet.starts_min[-1], len(sheet.starts_min), sheet.empty_min) == (480, 770, 30, ())


@pytest.mark.parametrize(("players", "size", "groups"), [(4, 4, 1), (5, 4, 2), (1, 2, 1), (91, 3, 31)])
def test_a_group_that_is_not_full_is_a_group(players: int, size: int, groups: int) -> None:
    assert groups_of(players, size) == groups


def test_an_empty_time_after_every_third_group() -> None:
    """Seven groups from 8:00 at 10 minutes: 8:00 8:10 8:20, none at 8:30, 8:40 8:50 9:00, none at 9:10, 9:20."""
    sheet = starting_sheet(7, first_min=480, interval_min=10, gap_after=3)
    assert sheet.starts_min == (480, 490, 500, 520, 530, 540, 560)
    assert sheet.empty_min == (510, 550)


def test_no_time_stays_empty_after_the_last_group() -> None:
    assert starting_sheet(6, first_min=480, interval_min=10, gap_after=3).empty_min == (510,)


def test_which_of_so_many_times_stay_empty() -> None:
    assert empty_times(23, interval_min=10, gap_after=10) == (100, 210)
    assert empty_times(10, interval_min=10, gap_after=10) == ()
    assert empty_times(11, interval_min=10, gap_after=10) == (100,)


@given(st.integers(1, 50), st.integers(1, 11), st.integers(1, 15))
def test_starts_and_empty_times_fill_the_times_without_a_hole(groups: int, interval_min: int, gap_after: int) -> None:
    sheet = starting_sheet(groups, first_min=300, interval_min=interval_min, gap_after=gap_after)
    times = sorted(sheet.starts_min + sheet.empty_min)
    assert times == [300 + place * interval_min for place in range(len(times))]
    assert times[-1] == sheet.starts_min[-1]
    assert tuple(time - 300 for time in sheet.empty_min) == empty_times(len(times), interval_min=interval_min, gap_after=gap_after)


@pytest.mark.parametrize(("size", "least"), [(2, 8), (3, 10), (4, 11)])
def test_the_shortest_interval_by_the_size_of_the_groups(size: int, least: int) -> None:
    """Committee Procedures (2023), 4A(1): eight minutes for twos, ten for threes, eleven or twelve for fours."""
    assert is_interval_long_enough(size, least)
    assert not is_interval_long_enough(size, least - 0.5)


@pytest.mark.parametrize("size", [0, 1, 5])
def test_a_group_of_another_size_is_refused(size: int) -> None:
    with pytest.raises(EventError, match="Groups"):
        groups_of(10, size)
    with pytest.raises(EventError, match="Groups"):
        is_interval_long_enough(size, 10)


def test_what_makes_no_times_is_refused() -> None:
    for groups, interval_min, gap_after in ((0, 10, None), (3, 0, None), (3, 10, 0)):
        with pytest.raises(EventError):
            starting_sheet(groups, first_min=480, interval_min=interval_min, gap_after=gap_after)
    for times, interval_min, gap in ((0, 10, 3), (5, 0, 3), (5, 10, 0)):
        with pytest.raises(EventError):
            empty_times(times, interval_min=interval_min, gap_after=gap)
    with pytest.raises(EventError, match="no group"):
        groups_of(0, 3)


def test_the_last_group_starts_on_the_same_day() -> None:
    assert starting_sheet(2, first_min=1429, interval_min=10).starts_min == (1429, 1439)
    with pytest.raises(EventError, match="another day"):
        starting_sheet(2, first_min=1430, interval_min=10)
    with pytest.raises(EventError, match="another day"):
        starting_sheet(1, first_min=-1, interval_min=10)
