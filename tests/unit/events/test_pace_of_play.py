"""Pace of groups that do not start on the first hole, worked out by hand."""

from __future__ import annotations

from marram.events.observed.group_of import GroupFinder
from marram.events.observed.log_entry import LogEntry, Mark, Thing
from marram.events.observed.pace_of_play import TimePar, pace_of
from marram.events.starting_list import StartingGroup, StartingList

PAR = TimePar(holes_min=(10.0,) * 9 + (20.0,) + (10.0,) * 8, gap_min=10.0)


def hole(group: int, number: int, minutes: float, number_of_round: int = 1) -> LogEntry:
    return LogEntry(
        id="x", thing=Thing.HOLE, group=group, hole=number, round=number_of_round, times_s={Mark.IN: round(minutes * 60)}, values={}
    )


def test_groups_from_another_tee_are_held_to_the_holes_that_they_have_played_and_to_their_own_group_ahead() -> None:
    """Group 2 starts on hole 10 at 08:00: 08:20 there is on time, and hole 1 after 110 min more, 10:10 is 20 late after 08:20 + 90."""
    starts = StartingList(
        groups=(
            StartingGroup(number=1, start_min=480, hole=1, players=("A",)),
            StartingGroup(number=2, start_min=480, hole=10, players=("B",)),
            StartingGroup(number=3, start_min=490, hole=1, players=("C",)),
            StartingGroup(number=4, start_min=490, hole=10, players=("D",)),
        )
    )
    finder = GroupFinder(numbers={}, starts={1: 1, 2: 10, 3: 1, 4: 10}, players={}, names={})
    entries = [hole(1, 10, 575), hole(2, 10, 500), hole(2, 1, 610), hole(4, 10, 512), hole(3, 10, 600, 2)]
    paced = {one.group: one for one in pace_of(entries, finder, starts, 18, PAR)}
    assert [(one.hole, one.behind_min, one.gap_min, one.is_out_of_position) for one in paced[2].holes] == [
        (10, 0.0, None, False),
        (1, 20.0, None, True),
    ]
    (fourth,) = paced[4].holes
    assert (fourth.behind_min, fourth.gap_min, fourth.is_out_of_position) == (2.0, 12.0, True), "behind group 2, not behind group 3"
    assert 3 not in paced, "another round"
    assert [one.behind_min for one in paced[1].holes] == [575 - 480 - 110]
