"""The season as it was played: pairs in order, lost days with their reason, and what other designs draw on a day."""

from __future__ import annotations

from datetime import date

from marram.evidence.designs.drawn_units import Drawing, Unit
from marram.evidence.plan import Design, DrawnPair
from marram.evidence.telling.resting import Loss, bands_of
from marram.evidence.telling.season import TO_COME, SeasonColumn, still_to_come
from marram.evidence.telling.season_of_days import season_of_changes, season_of_pairs, season_of_steps
from marram.evidence.telling.season_of_units import season_of_units
from marram.evidence.weighing.account import NOT_RESTED_ON, RowsOfDay
from marram.evidence.weighing.told_findings import TrialReport
from marram.records.rows import Arm, LeftOutRow, Observation, TrialDay, TrialRecords
from tests.support.seasons import trial_of

T, O = Arm.TRIAL, Arm.ORDINARY  # noqa: E741 - short beside each other in tables


def day(name: str, dated: str, pair: str = "", arm: Arm | None = None, **more: object) -> TrialDay:
    return TrialDay(day=name, dated=date.fromisoformat(dated), pair=pair, arm=arm, course=str(more.pop("course", "")), **more)  # type: ignore[arg-type]


def seen(*days: str, **more: object) -> tuple[Observation, ...]:
    return tuple(Observation(day=name, outcome="strokes", value=90.0, **more) for name in days)  # type: ignore[arg-type]


def shown(column: SeasonColumn) -> tuple[str, str, bool, bool, str]:
    return column.name, column.joined, column.is_held, column.is_weighed, column.reason


PAIRED = TrialRecords(
    days=(
        day("d01", "2026-04-04", "p01", T),
        day("d02", "2026-04-11", "p01", O),
        day("d05", "2026-05-02", "p03", O, facts=(("note", "storm"),)),
        day("d06", "2026-05-09", "p03", T),
        day("d07", "2026-05-16", "p04", O, facts=(("note", "windy"),)),
        day("d08", "2026-05-23", "p04", T),
    ),
    observations=seen("d01", "d02", "d06", "d07", "d08"),
)
PLANNED = [DrawnPair(pair=f"p0{number}", first=T, second=O) for number in (1, 2, 3, 4)]


def test_pairs_stand_in_order_and_what_was_lost_says_why_where_that_was_written_down() -> None:
    season = season_of_pairs(PAIRED, frozenset({"d01", "d02", "d06", "d07", "d08"}), PLANNED)
    assert [shown(column) for column in season.columns] == [
        ("d01", "p01", True, True, ""),
        ("d02", "p01", True, True, ""),
        ("p02, day 1", "p02", False, False, ""),
        ("p02, day 2", "p02", False, False, ""),
        ("d05", "p03", False, False, "storm"),  # nothing was recorded of it: its note is the reason
        ("d06", "p03", True, False, ""),  # the other day of the pair is lost, so that no value of it can be weighed by pairs
        ("d07", "p04", True, True, ""),  # a note on a day that was held is no reason
        ("d08", "p04", True, True, ""),
    ]
    assert [column.cells for column in season.columns][:4] == [((T,),), ((O,),), ((None,),), ((None,),)]


def test_days_planned_held_and_weighed_are_counted_with_each_loss() -> None:
    season = season_of_pairs(PAIRED, frozenset({"d01", "d02", "d06", "d07", "d08"}), PLANNED)
    rows = (
        RowsOfDay(outcome="strokes", day="d01", arm=T, read=50, weighed=40, left_out=(("slip", 7), (NOT_RESTED_ON, 3))),
        RowsOfDay(outcome="strokes", day="d02", arm=O, read=20, weighed=18, left_out=(("slip", 2),)),
    )
    report = TrialReport(trial=trial_of({}), findings=(), pairs=2, records=PAIRED, rows=rows)
    days, values = bands_of(report, season)
    assert [(step.count, step.word) for step in days.steps] == [(8, "days planned"), (5, "held"), (4, "weighed")]
    assert days.steps[1].losses == (Loss(count=2, reason="why is not written down"), Loss(count=1, reason="storm"))
    assert days.steps[2].losses == (Loss(count=1, reason="the other day of its pair was lost"),)
    assert days.besides == "2 pairs"
    # 50 + 20 read; 7 + 2 have a slip; 3 are whole and nothing rests on them
    assert [(step.count, step.word) for step in values.steps] == [(70, "rows read"), (61, "whole"), (58, "weighed")]
    assert values.losses_told == ("9 not whole: slip", f"3 not weighed: {NOT_RESTED_ON}")


def test_without_a_plan_the_days_that_were_written_down_are_the_whole() -> None:
    season = season_of_pairs(PAIRED, frozenset({"d01"}), ())
    assert len(season.columns) == 6
    report = TrialReport(trial=trial_of({}), findings=(), pairs=2, records=PAIRED, rows=())
    assert bands_of(report, season)[0].steps[0].word == "days written down"


def test_pairs_under_other_names_than_the_plan_are_not_taken_for_lost() -> None:
    season = season_of_pairs(PAIRED, frozenset(), [DrawnPair(pair="x", first=T, second=O)])
    assert [column.name for column in season.columns] == [entry.day for entry in PAIRED.days]


def test_a_day_without_the_other_of_its_pair_is_held_and_cannot_be_weighed() -> None:
    alone = TrialRecords(days=PAIRED.days[:1], observations=seen("d01"))
    (column,) = season_of_pairs(alone, frozenset({"d01"}), ()).columns
    assert (column.is_held, column.is_weighed) == (True, False)


def test_while_the_plan_goes_on_what_follows_the_last_day_is_to_come_and_what_lies_before_was_lost() -> None:
    planned = [DrawnPair(pair=f"p0{number}", first=T, second=O) for number in (1, 2, 3, 4, 5)]
    season = still_to_come(season_of_pairs(PAIRED, frozenset(), planned))
    assert [(column.name, column.reason) for column in season.columns][2:] == [
        ("p02, day 1", ""),
        ("p02, day 2", ""),
        ("d05", "storm"),
        ("d06", ""),
        ("d07", ""),
        ("d08", ""),
        ("p05, day 1", TO_COME),
        ("p05, day 2", TO_COME),
    ]
    late = TrialRecords(days=PAIRED.days[:4], observations=seen("d01", "d02"))
    last = still_to_come(season_of_pairs(late, frozenset(), ())).columns[-2:]
    assert [column.reason for column in last] == ["storm", TO_COME]  # what was written down stays


def test_a_day_all_of_whose_rows_are_left_out_was_held() -> None:
    left = TrialRecords(
        days=PAIRED.days[:2],
        observations=(),
        left_out=(LeftOutRow(where="pair p01", reason="9 values: the trial day lies outside the window of the trial"),),
    )
    season = season_of_pairs(left, frozenset(), ())
    assert [column.is_held for column in season.columns] == [True, True]


def test_a_cross_over_shows_both_rounds_of_each_group_in_one_order() -> None:
    rules = {Unit(event="d01", group="g1"): (T, O), Unit(event="d01", group="g2"): (O, T), Unit(event="d01", group="g3"): (T, O)}
    rules |= {Unit(event="d02", group="g1"): (O, T)}
    observations = (*(entry for group in ("g1", "g2") for number in (1, 2) for entry in seen("d01", group=group, round=number, arm=T)),)
    records = TrialRecords(days=(day("d01", "2026-04-04"),), observations=observations)
    season = season_of_units(records, frozenset({"d01"}), Drawing(design=Design.CROSS_OVER, rules=rules), "group")
    assert season.rows == ("round 1", "round 2")
    first, second = season.columns
    # ordinary first, then trial, then who did not play; each group keeps its place in both rounds
    assert first.cells == ((O, T, None), (T, O, None))
    assert (second.is_held, second.cells) == (False, ((None,), (None,)))


def test_halves_of_the_field_show_one_unit_a_day() -> None:
    rules = {Unit(event="d01"): (T, O), Unit(event="d02"): (O, T)}
    records = TrialRecords(
        days=(day("d01", "2026-04-04"), day("d02", "2026-04-05")),
        observations=(*seen("d01", round=1, arm=T), *seen("d02", round=1, arm=O)),
    )
    season = season_of_units(records, frozenset({"d01"}), Drawing(design=Design.CROSS_OVER_BY_HALF, rules=rules), "day")
    assert [column.cells for column in season.columns] == [((T,), (O,)), ((O,), (T,))]
    assert [column.is_weighed for column in season.columns] == [True, False]


def test_groups_within_a_day_show_their_waves_and_without_a_plan_what_was_recorded() -> None:
    observations = (
        *seen("d01", group="g1", arm=T, period="morning"),
        *seen("d01", group="g2", arm=O, period="morning"),
        *seen("d01", group="g1", arm=O, period="afternoon"),
    )
    records = TrialRecords(days=(day("d01", "2026-04-04"),), observations=observations)
    season = season_of_units(records, frozenset({"d01"}), Drawing(design=Design.GROUPS_IN_A_DAY), "group")
    assert season.rows == ("morning", "afternoon")
    assert season.columns[0].cells == ((O, T), (O,))
    assert not season.is_planned


def test_days_with_some_of_the_changes_show_which_were_on() -> None:
    records = TrialRecords(
        days=(day("d01", "2026-04-04", arm=T, changes=(1, 3)), day("d02", "2026-04-11", arm=O, changes=())), observations=seen("d01", "d02")
    )
    season = season_of_changes(records, frozenset({"d01"}), ["d01", "d02", "d03"], (1, 2, 3), {"d01": "a", "d02": "a", "d03": "b"})
    assert season.rows == ("change 1", "change 2", "change 3")
    assert [column.cells for column in season.columns] == [((T,), (O,), (T,)), ((O,), (O,), (O,)), ((None,), (None,), (None,))]
    assert [column.joined for column in season.columns] == ["a", "a", "b"]


def test_a_roll_out_shows_each_course_by_its_periods_and_counts_them_one_by_one() -> None:
    days = (
        day("a1", "2026-04-04", arm=O, course="Moor", period="1"),
        day("a2", "2026-05-04", arm=T, course="Moor", period="2"),
        day("b1", "2026-04-05", arm=O, course="Links", period="1"),
        day("b2", "2026-05-05", arm=O, course="Links", period="2", facts=(("note", "flooded"),)),
    )
    records = TrialRecords(days=days, observations=seen("a1", "a2", "b1"))
    season = season_of_steps(records, frozenset({"a1", "a2"}), {"Moor": (O, T, T), "Links": (O, O, T)})
    assert season.rows == ("Moor", "Links")
    assert [column.cells for column in season.columns] == [((O,), (O,)), ((T,), (None,)), ((None,), (None,))]
    report = TrialReport(trial=trial_of({}), findings=(), pairs=0, records=records, rows=())
    steps = bands_of(report, season)[0].steps
    assert [step.count for step in steps] == [6, 3, 2]
    assert sum(loss.count for loss in steps[1].losses) == 3
    assert {loss.reason for loss in steps[1].losses} == {"flooded", "why is not written down"}
