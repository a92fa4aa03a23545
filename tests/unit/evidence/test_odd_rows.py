"""What is odd is queried and not weighed, until somebody says that it is right."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from marram.evidence.weighing.odd_rows import limits_of, query_rows
from marram.records.rows import Arm, Observation, TrialRecords
from tests.support.seasons import days_of, expecting, rows_of, trial_of

TRIAL = trial_of(expecting("search_s", 15))
DAYS = days_of(6)
USUAL = rows_of(DAYS, "search_s", lambda day, group: 60.0 + 5 * group)


def queried(*more: Observation, days: tuple[object, ...] = DAYS) -> list[tuple[str, str]]:
    records = query_rows(TrialRecords(days=days, observations=(*USUAL, *more)), limits_of(TRIAL))  # type: ignore[arg-type]
    assert len(records.observations) + len(records.left_out) == len(USUAL) + len(more)
    assert all(row.is_query for row in records.left_out)
    return [(row.day, row.reason) for row in records.left_out]


def search(day: str, value: float, **more: object) -> Observation:
    return Observation(day=day, outcome="search_s", value=value, **more)  # type: ignore[arg-type]


def test_nothing_is_odd_about_usual_rows() -> None:
    assert queried(search("trial0", 120), search("ordinary0", 180), search("trial1", 4)) == []


@pytest.mark.parametrize(("day", "value"), [("trial0", 121.0), ("trial0", 170.0), ("ordinary0", 181.0)])
def test_a_search_beyond_the_limit_of_its_day_is_queried(day: str, value: float) -> None:
    ((of_day, reason),) = queried(search(day, value))
    assert of_day == day
    assert "beyond the" in reason


def test_a_value_that_was_looked_at_is_weighed() -> None:
    assert queried(search("trial0", 170, is_checked=True)) == []


def test_minutes_among_seconds_are_queried_and_a_ball_found_at_once_is_not() -> None:
    assert [reason for _, reason in queried(search("trial0", 1.5), search("trial0", 3))] == [
        "1.5 s where 80 is usual: it reads like minutes"
    ]


def test_a_whole_day_in_minutes_is_queried() -> None:
    minutes = [search("trial0", float(1 + n % 2), group=f"m{n}") for n in range(30)]
    assert len(queried(*minutes)) == 30


def test_a_table_pasted_twice_is_weighed_once() -> None:
    again = [row for row in USUAL if row.day == "ordinary2"]
    assert [day for day, _ in queried(*again)] == ["ordinary2"] * len(again)
    assert queried(again[0]) == []  # one row like another is none


def test_a_player_who_answers_twice_is_counted_once() -> None:
    answers = [Observation(day="trial0", outcome="fair", value=4, player="a", change=1, group=group) for group in ("g1", "g2")]
    assert [reason for _, reason in queried(*answers)] == ["a has answered that already on that day"]
    assert queried(answers[0], replace(answers[1], day="trial1")) == []
    assert queried(answers[0], replace(answers[1], change=2)) == []


def test_a_date_and_course_under_both_sets_of_rules_takes_its_pairs_out() -> None:
    days = tuple(replace(day, dated=date(2026, 4, 4)) if day.day == "ordinary0" else day for day in DAYS)
    found = queried(days=days)
    assert {day for day, _ in found} == {"trial0", "ordinary0"}
    assert len(found) == 20
    other = tuple(replace(day, dated=date(2026, 4, 4), course="Links") if day.day == "ordinary0" else day for day in DAYS)
    assert queried(days=other) == []


def test_limits_are_those_of_the_change() -> None:
    assert limits_of(TRIAL) == {("search_s", Arm.ORDINARY): 180.0, ("search_s", Arm.TRIAL): 120.0}
    assert limits_of(trial_of({"key": '"relief.small.size"', "was": "{ club_lengths = 1 }", "now": "{ metres = 1 }"})) == {}


def far_out(*more: Observation) -> tuple[str, ...]:
    records = query_rows(TrialRecords(days=DAYS, observations=(*USUAL, *more), remarks=("before",)), limits_of(TRIAL))
    assert len(records.observations) == len(USUAL) + len(more)  # nothing is left out for it
    assert records.remarks[0] == "before"
    return records.remarks[1:]


def test_a_value_far_out_is_remarked_on_and_weighed() -> None:
    likes = [search("ordinary3", 60.0 + one % 3, where=f"values.csv, row {one}") for one in range(20)]
    assert far_out(*likes) == ()
    (told,) = far_out(*likes, search("ordinary3", 178.0, where="values.csv, row 99"))
    assert told.startswith("values.csv, row 99: a value of 178 s lies far out from the other")
    assert "is weighed" in told
    assert far_out(*likes, search("ordinary3", 178.0, is_checked=True)) == ()


def test_the_more_days_there_are_the_farther_out_a_value_must_lie() -> None:
    """Grubbs's bound for ten values, both ways: 2.290 at 5 %, 2.482 at 1 %; of twelve days each has its twelfth of 5 %, 2.556."""
    ten = [-1.0, -1.0, -1.0, 1.0, 1.0, 1.0, -0.5, 0.5, 0.0]
    days = {day.day: ten for day in DAYS}

    def remarks(last: float) -> tuple[str, ...]:
        rows = [
            Observation(day=day, outcome="round_min", value=240 + 5 * value)
            for day, values in days.items()
            for value in (*values, last if day == "trial0" else 0.2)
        ]
        return query_rows(TrialRecords(days=DAYS, observations=tuple(rows)), {}).remarks

    assert remarks(4.1) == ()  # 2.380 standard deviations out: over the bound of one day, within that of twelve
    assert len(remarks(6.0)) == 1  # 2.597


def test_counts_and_shares_are_not_remarked_on() -> None:
    rows = [Observation(day="trial0", outcome="rulings", value=value) for value in [0.0] * 20 + [9.0]]
    assert query_rows(TrialRecords(days=DAYS, observations=tuple(rows)), {}).remarks == ()
    drops = [Observation(day="trial0", outcome="drops_per_relief", value=value) for value in [1.0] * 20 + [3.0]]
    assert query_rows(TrialRecords(days=DAYS, observations=tuple(drops)), {}).remarks == ()


def test_of_times_that_run_long_now_and_then_the_logarithm_counts() -> None:
    """Times of a steady ratio are evenly spread by their logarithm, though the longest lies far above the others."""
    rows = [Observation(day="trial0", outcome="ruling_s", value=10 * 1.6**step) for step in range(10)]
    assert query_rows(TrialRecords(days=DAYS, observations=tuple(rows)), {}).remarks == ()
    rows += [Observation(day="trial1", outcome="ruling_s", value=value) for value in [60.0, 61, 62, 60, 61, 63, 59, 60, 62, 1700]]
    assert len(query_rows(TrialRecords(days=DAYS, observations=tuple(rows)), {}).remarks) == 1
