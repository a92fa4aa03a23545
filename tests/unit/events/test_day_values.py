"""What follows from the log of a day, worked out by hand: times and suspensions, counts stated and counted, shotgun starts."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from marram.events.happened import LoggedRuling, Signal, Suspension
from marram.events.observed.day_values import DayLog, PlayedStrokes, values_of_day
from marram.events.observed.group_of import GroupFinder
from marram.events.observed.log_entry import LogEntry, Mark, Thing, Watched

GROUPS = GroupFinder(
    numbers={"aster": 1, "dock": 2},
    starts={1: 1, 2: 10},
    players={"R1": "Aster"},
    names={"aster": "Aster", "dock": "Dock"},
)
EVERY = frozenset({"hole_min", "round_min", "searches", "rulings", "waiting_min", "disputes", "strokes", "search_s", "ruling_s"})


def at(clock: str) -> int:
    hours, minutes = map(int, clock.split(":"))
    return hours * 3600 + minutes * 60


def hole(group: int, number: int, tee: str, end: str, **values: float) -> LogEntry:
    times = {Mark.TEE: at(tee), Mark.IN: at(end)}
    return LogEntry(id=f"h{group}-{number}", thing=Thing.HOLE, group=group, hole=number, times_s=times, values=values)


def found(
    entries: Sequence[LogEntry], wanted: frozenset[str] = EVERY, **more: object
) -> tuple[list[tuple[str, str, float]], tuple[str, ...]]:
    settings: dict[str, object] = {"watched": (), "rulings": (), "strokes": ()} | more
    log = DayLog(day="d", groups=GROUPS, holes=18, entries=entries, **settings)  # type: ignore[arg-type]
    values = values_of_day(log, wanted)
    return sorted((one.outcome, one.group, one.value) for one in values.observations), values.remarks


@pytest.mark.parametrize(
    ("start", "end", "has_time"),
    [
        ("09:00", "09:30", True),  # over before the group played
        ("09:00", "10:00", True),  # goes on as the group starts
        ("09:00", "10:01", False),
        ("10:05", "10:10", False),
        ("10:14", "10:20", False),
        ("10:15", "10:30", True),  # begins as the group has holed out
        ("10:05", None, False),
        ("10:30", None, True),
    ],
)
def test_a_hole_on_which_play_was_suspended_has_no_time(start: str, end: str | None, has_time: bool) -> None:
    until = None if end is None else at(end) // 60
    suspension = Suspension(signal=Signal.NORMAL, from_min=at(start) // 60, until_min=until, why="fog")
    values, remarks = found([hole(1, 4, "10:00", "10:15")], suspension=suspension)
    assert values == ([("hole_min", "g01", 15.0)] if has_time else [])
    assert remarks == (() if has_time else ("d: group 1, hole 4: play was suspended, so there is no time of the hole",))


def test_a_group_of_a_shotgun_start_ends_on_the_hole_before_its_first() -> None:
    entries = [hole(2, 10, "09:00", "09:14"), hole(2, 18, "11:00", "11:15"), hole(2, 1, "11:20", "11:34"), hole(2, 9, "13:00", "13:10")]
    values, _ = found(entries, frozenset({"round_min"}))
    assert values == [("round_min", "g02", 250.0)]


def test_a_count_for_the_round_goes_before_entries_and_needs_no_watch() -> None:
    stated = LogEntry(id="a", thing=Thing.ROUND, group=1, values={"searches": 3.0, "waiting_min": 12.0})
    entries = [stated, LogEntry(id="b", thing=Thing.SEARCH, group=1), hole(1, 3, "10:00", "10:10", waiting_min=2.0)]
    watched = [Watched(outcome="searches"), Watched(outcome="waiting_min")]
    values, remarks = found(entries, frozenset({"searches", "waiting_min"}), watched=watched)
    assert values == [("searches", "g01", 3.0), ("searches", "g02", 0.0), ("waiting_min", "g01", 12.0), ("waiting_min", "g02", 0.0)]
    assert not [remark for remark in remarks if "nobody says" in remark]


def test_a_ruling_counts_once_and_a_watch_of_another_round_does_not_count() -> None:
    rulings = [LoggedRuling(id="R1", player="Aster"), LoggedRuling(id="R2", player="Dock", round=2)]
    entries = [LogEntry(id="a", thing=Thing.RULING, ruling="R1", values={"ruling_s": 90.0, "disputes": 1.0})]
    watched = [Watched(outcome="rulings", round=1), Watched(outcome="disputes", group=1)]
    values, remarks = found(entries, frozenset({"rulings", "disputes", "ruling_s"}), watched=watched, rulings=rulings, rounds=2)
    assert values == [("disputes", "g01", 1.0), ("ruling_s", "g01", 90.0), ("rulings", "g01", 1.0), ("rulings", "g02", 0.0)]
    assert "d: nobody says that group 2 was watched for rulings all round: no count" in remarks


def test_what_two_recorders_saw_of_one_thing_is_counted_once() -> None:
    """By hand: on hole 3 one saw two searches and the other one of them, on hole 5 one alone saw one: three. Waiting 4 and 6 are 5."""
    entries = [
        *(
            LogEntry(id=f"s{place}", thing=Thing.SEARCH, group=1, hole=3, recorder=who)
            for place, who in enumerate(("Fern", "Fern", "Yarrow"))
        ),
        LogEntry(id="s5", thing=Thing.SEARCH, group=1, hole=5, recorder="Yarrow"),
        LogEntry(id="w1", thing=Thing.HOLE, group=1, hole=3, recorder="Fern", values={"waiting_min": 4.0}),
        LogEntry(id="w2", thing=Thing.HOLE, group=1, hole=3, recorder="Yarrow", values={"waiting_min": 6.0}),
    ]
    watched = [Watched(outcome="searches", group=1), Watched(outcome="waiting_min", group=1)]
    values, _ = found(entries, frozenset({"searches", "waiting_min"}), watched=watched)
    assert values == [("searches", "g01", 3.0), ("waiting_min", "g01", 5.0)]


def test_a_time_of_a_hole_beyond_what_can_be_has_no_row() -> None:
    for tee, end, has_time in (("10:00", "10:02", True), ("10:00", "10:01", False), ("10:00", "11:00", True), ("10:00", "11:01", False)):
        assert bool(found([hole(1, 4, tee, end)])[0]) is has_time


def test_entries_of_a_player_who_was_not_drawn_are_in_no_count() -> None:
    entries = [LogEntry(id="a", thing=Thing.SEARCH, player="Elder", values={"search_s": 60.0})]
    values, remarks = found(entries, frozenset({"searches", "search_s"}), watched=[Watched(outcome="searches", group=1)])
    assert values == [("search_s", "", 60.0), ("searches", "g01", 0.0)]
    assert "d: 1 entries for searches name no group that was drawn: they are in no count" in remarks


def test_strokes_that_are_written_down_go_before_those_of_the_card() -> None:
    entries = [LogEntry(id="a", thing=Thing.ROUND, player="Aster", values={"strokes": 91.0})]
    strokes = [PlayedStrokes(player="Aster", round=1, strokes=90), PlayedStrokes(player="Dock", round=1, strokes=88)]
    values, _ = found(entries, frozenset({"strokes"}), strokes=strokes)
    assert values == [("strokes", "g01", 91.0), ("strokes", "g02", 88.0)]
    assert found([], frozenset({"strokes"}), strokes=[PlayedStrokes(player="Dock", round=1, strokes=49)])[0] == []


def test_a_time_that_is_stated_goes_before_what_follows_from_times_of_day() -> None:
    entries = [
        hole(1, 4, "10:00", "10:15", hole_min=14.0),
        LogEntry(id="r", thing=Thing.ROUND, group=1, times_s={Mark.TEE: at("08:00"), Mark.IN: at("12:00")}, values={"round_min": 239.0}),
    ]
    assert found(entries)[0] == [("hole_min", "g01", 14.0), ("round_min", "g01", 239.0)]
