"""Starting lists by hand: one tee, two tees, the starter's gap, all at once.

Times: groups 10 min apart, one time empty after ten groups, leave 100 and 210 min empty (the example of Committee Procedures 4A(1)).
"""

from __future__ import annotations

import pytest

from marram.core.errors import EventError
from marram.events.event_terms import Starting, Way
from marram.events.starting_list import clock_words, hole_of, set_times

PARS = (4, 4, 3, 5, 4, 4, 3, 4, 5, 4, 3, 4, 5, 4, 4, 3, 5, 4)
EIGHT = 8 * 60


def groups(count: int, size: int = 3) -> list[list[str]]:
    return [[f"{group}.{place}" for place in range(1, size + 1)] for group in range(1, count + 1)]


def starting(**given: object) -> Starting:
    return Starting(**{"first_min": EIGHT, "interval_min": 10, "group_size": 3, **given})  # type: ignore[arg-type]


def test_one_tee_with_a_gap() -> None:
    found = set_times(groups(21), starting(gap_after=10), PARS)
    times = [group.start_min - EIGHT for group in found.groups]
    assert times == [*range(0, 100, 10), *range(110, 210, 10), 220]
    assert found.empty == ((EIGHT + 100, 1), (EIGHT + 210, 1))
    assert found.empty_words == (("09:40", 1), ("11:30", 1))
    assert [group.number for group in found.groups] == list(range(1, 22))


def test_groups_go_to_two_tees_in_turn() -> None:
    found = set_times(groups(5), starting(holes=(1, 10)), PARS)
    assert [(group.number, group.time, group.hole) for group in found.groups] == [
        (1, "08:00", 1),
        (2, "08:00", 10),
        (3, "08:10", 1),
        (4, "08:10", 10),
        (5, "08:20", 1),
    ]
    assert set_times(groups(1), starting(holes=(1, 10)), PARS).groups[0].hole == 1


def test_all_at_once_a_group_on_each_hole_and_second_groups_on_short_holes_last() -> None:
    found = set_times(groups(20), starting(way=Way.SHOTGUN, holes=tuple(range(1, 19))), PARS)
    # two more than holes: holes 1 and 2 take a second group, 3 is short and does not
    assert [(group.hole, group.letter) for group in found.groups][:5] == [(1, "A"), (1, "B"), (2, "A"), (2, "B"), (3, "")]
    assert {group.time for group in found.groups} == {"08:00"}
    many = set_times(groups(33), starting(way=Way.SHOTGUN, holes=tuple(range(1, 19))), PARS)
    # 15 second groups: 14 holes are not short, so one short hole, the first, takes one
    assert [group.hole for group in many.groups if group.letter == "B" and PARS[group.hole - 1] == 3] == [3]
    assert [group.number for group in many.groups] == list(range(1, 34))
    assert len(set_times(groups(3), starting(way=Way.SHOTGUN, holes=(5, 2, 9)), PARS).groups) == 3
    with pytest.raises(EventError, match="37 groups cannot start at once from 18 holes, which have room for 36"):
        set_times(groups(37), starting(way=Way.SHOTGUN, holes=tuple(range(1, 19))), PARS)


def test_an_interval_below_what_is_recommended_is_told() -> None:
    # 8 min for two, 10 for three, 11 for four
    told = [set_times(groups(2, size), starting(interval_min=9), PARS).remarks for size in (2, 3, 4)]
    assert [len(remarks) for remarks in told] == [0, 1, 1]
    assert "at least 10 min" in told[1][0] and "at least 11 min" in told[2][0]


def test_the_last_group_starts_on_the_same_day() -> None:
    with pytest.raises(EventError, match="another day"):
        set_times(groups(3), starting(first_min=23 * 60 + 50), PARS)


def test_where_a_player_starts() -> None:
    found = set_times(groups(2), starting(holes=(1, 10)), PARS)
    assert (hole_of(found, "2.3"), hole_of(found, "1.1"), hole_of(found, "9.9"), hole_of(None, "1.1")) == (10, 1, None, None)
    assert clock_words(65) == "01:05"


def meetings(groups: int, **more: object) -> list[str]:
    starting = Starting(**{"first_min": 480, "interval_min": 10, "group_size": 3, "holes": (1, 10), **more})  # type: ignore[arg-type]
    listed = set_times([(f"P{number}",) for number in range(groups)], starting, (4,) * 18)
    return [remark for remark in listed.remarks if "reaches hole" in remark]


def test_a_start_from_two_tees_says_where_groups_meet() -> None:
    # every second group from hole 10: with 26 the last of 13 starts at 08:00 + 12 x 10 min = 10:00, and the first from hole 1 is there
    # 120 min after 08:00, at 10:00; with 24 the last starts at 09:50
    assert meetings(24) == []
    told = meetings(26)
    first = "The first group from hole 1 reaches hole 10 at about 10:00, and the last group starts there at 10:00"
    assert told[0] == f"{first} (120 min for nine holes)."
    assert len(told) == 2, "and the other way round"
    assert meetings(26, nine_min=125) == [] and meetings(24, nine_min=110) != []
    # from holes 1 and 4: three holes take 40 min one way and fifteen take 200 min the other
    assert len(meetings(10, holes=(1, 4))) == 1


def test_groups_that_start_from_one_tee_or_at_once_meet_nobody() -> None:
    assert meetings(40, holes=(1,)) == []
