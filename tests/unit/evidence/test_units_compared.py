"""Units drawn singly: groups of a day against each other, groups and days of two rounds against themselves. Numbers worked by hand."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from functools import partial

import pytest

from marram.evidence.design_words import CROSS_OVER, CROSS_OVER_BY_HALF, GROUPS_IN_A_DAY, DesignWords
from marram.evidence.designs.by_units import ByUnits
from marram.evidence.designs.drawn_units import Drawing, Unit
from marram.evidence.designs.unit_rows import query_units
from marram.evidence.findings import weigh_trial
from marram.evidence.verdicts import Verdict
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from marram.rulebook.overlays.overlay import Overlay
from tests.support.seasons import expecting, only, trial_of

LATERAL = {"key": '"relief.lateral.size"', "was": "{ club_lengths = 2 }", "now": "{ club_lengths = 4 }"}
STROKES = trial_of(expecting("strokes", 2))
T, R = Arm.TRIAL, Arm.ORDINARY


def a_day(name: str, week: int = 0, pair: str = "", facts: tuple[tuple[str, str], ...] = ()) -> TrialDay:
    return TrialDay(day=name, dated=date(2026, 4, 4) + timedelta(weeks=week), pair=pair, arm=None, course="Moor", facts=facts)


def row(day: str, group: str, arm: Arm | None, value: float, **more: object) -> Observation:
    return Observation(day=day, outcome=str(more.pop("outcome", "strokes")), value=value, group=group, arm=arm, **more)  # type: ignore[arg-type]


def weighed(
    rows: Iterable[Observation],
    words: DesignWords,
    *,
    trial: Overlay = STROKES,
    rules: dict[Unit, tuple[Arm, ...]] | None = None,
    days: Iterable[TrialDay] = (),
) -> TrialReport:
    kept = tuple(rows)
    named = tuple(days) or tuple(a_day(name, week) for week, name in enumerate(dict.fromkeys(entry.day for entry in kept)))
    drawing = Drawing(design=words.design, rules=rules or {})
    records = query_units(TrialRecords(days=named, observations=kept), drawing)
    return weigh_trial(trial, records, planned_pairs=len(drawing.rules) or None, comparing=partial(ByUnits, drawing=drawing, words=words))


def turns(orders: Iterable[tuple[Arm, float, float]], day: str = "d1") -> list[Observation]:
    """One row for each round of each group: under which rules it came first, the first and the second value."""
    found = []
    for number, (first, one, two) in enumerate(orders):
        second = R if first is T else T
        found += [row(day, f"g{number}", first, one, round=1), row(day, f"g{number}", second, two, round=2)]
    return found


def ends(finding: ChangeFinding) -> tuple[float, float]:
    assert finding.effect is not None
    return finding.effect.interval95.low, finding.effect.interval95.high


FS = [(310, 270), (310, 260), (370, 300), (410, 390), (250, 210), (380, 350), (330, 365)]
SF = [(370, 385), (310, 400), (380, 410), (290, 320), (260, 340), (90, 220)]


def published() -> list[tuple[Arm, float, float]]:
    """Senn, Cross-over Trials in Clinical Research (1993), example 3.1: 13 children, 46.6 with a standard error of 10.8, 11 degrees."""
    return [*((T, float(one), float(two)) for one, two in FS), *((R, float(one), float(two)) for one, two in SF)]


@pytest.mark.parametrize(("matters", "verdict"), [(20, Verdict.DOES_IT), (40, Verdict.DOES_IT_SIZE_OPEN), (60, Verdict.WORKS_LESS)])
def test_the_published_cross_over_of_thirteen(matters: float, verdict: Verdict) -> None:
    finding = only(weighed(turns(published()), CROSS_OVER, trial=trial_of(expecting("strokes", matters, "up"))))
    assert finding.effect is not None
    assert finding.effect.estimate == pytest.approx(46.6, abs=0.05)
    assert finding.effect.sd / 13**0.5 == pytest.approx(10.8, abs=0.05)
    # t.975 with 11 degrees of freedom is 2.2010: 46.607 less and more 23.719
    assert ends(finding) == pytest.approx((22.89, 70.33), abs=0.02)
    assert finding.effect.trial_mean - finding.effect.ordinary_mean == pytest.approx(46.607, abs=0.001)
    assert finding.verdict is verdict
    assert finding.effect.units == 13


def test_what_the_round_alone_changes_does_not_move_a_cross_over() -> None:
    later = [(first, one, two + 500) for first, one, two in published()]
    before, after = (only(weighed(turns(orders), CROSS_OVER)) for orders in (published(), later))
    assert before.effect is not None
    assert after.effect is not None
    assert after.effect.estimate == pytest.approx(before.effect.estimate)
    assert ends(after) == pytest.approx(ends(before))


def test_players_are_gathered_to_their_group_first_and_days_stand_apart() -> None:
    """Three rows of a group count as one. Day one: trial 70 and 72, ordinary 74 and 78; day two, 10 higher: 80, 82, 84 and 86, 84, 88.

    Day one 71 less 76 = -5, day two 82 less 86 = -4; weights 1 and 1.5: -4.4. Squares 2 + 8 + 8 + 8 = 26, freedom 1 + 1 + 2 + 2 = 6:
    standard error sqrt(26 / 6 / 2.5) = 1.3166; t.975 with 6 is 2.4469.
    """
    of_groups = {"d1": {T: [70, 72], R: [74, 78]}, "d2": {T: [80, 82, 84], R: [86, 84, 88]}}
    rows = [
        row(day, f"{arm}{number}", arm, value + off, player=f"{number}{off}")
        for day, by_arm in of_groups.items()
        for arm, values in by_arm.items()
        for number, value in enumerate(values)
        for off in (-3, 0, 3)
    ]
    finding = only(weighed(rows, GROUPS_IN_A_DAY))
    assert finding.effect is not None
    assert finding.effect.estimate == pytest.approx(-4.4)
    assert (finding.effect.units, finding.rows) == (10, 30)
    assert ends(finding) == pytest.approx((-4.4 - 2.4469 * 1.3166, -4.4 + 2.4469 * 1.3166), abs=2e-3)
    # by the weights of the days: (71 + 1.5 x 82) / 2.5 = 77.6 and (76 + 1.5 x 86) / 2.5 = 82
    assert (finding.effect.trial_mean, finding.effect.ordinary_mean) == pytest.approx((77.6, 82.0))
    assert finding.reason == "5 groups on each side; 6 are the fewest that can show anything"


def groups_of_days(trial: int, ordinary: int, effect: float = -6.0, days: int = 2) -> list[Observation]:
    return [
        row(f"d{day}", f"{arm}{number}", arm, 80 + 7 * day + (effect if arm is T else 0.0) + number % 3, player=f"{arm}{number}")
        for day in range(days)
        for arm, count in ((T, trial), (R, ordinary))
        for number in range(count)
    ]


@pytest.mark.parametrize(("trial", "ordinary", "is_judged"), [(3, 3, True), (2, 8, False), (8, 2, False)])
def test_six_groups_on_each_side_are_the_fewest(trial: int, ordinary: int, is_judged: bool) -> None:
    finding = only(weighed(groups_of_days(trial, ordinary), GROUPS_IN_A_DAY))
    assert (finding.verdict is Verdict.DOES_IT) is is_judged
    assert is_judged or finding.reason.startswith("4 groups on each side")


def test_a_day_under_one_set_of_rules_alone_adds_nothing() -> None:
    more = [row("d9", f"g{number}", T, 200.0 + number, player=str(number)) for number in range(9)]
    whole, added = (only(weighed(rows, GROUPS_IN_A_DAY)) for rows in (groups_of_days(4, 4), [*groups_of_days(4, 4), *more]))
    assert whole.effect is not None
    assert added.effect is not None
    assert (added.effect.estimate, added.effect.units) == (whole.effect.estimate, whole.effect.units)


@pytest.mark.parametrize(("first", "is_judged"), [(6, True), (5, False), (9, False)])
def test_each_order_of_a_cross_over_needs_six(first: int, is_judged: bool) -> None:
    orders = [(T if number < first else R, 80.0 + number % 4, 80.0 + number % 3) for number in range(12)]
    finding = only(weighed(turns(orders), CROSS_OVER))
    assert ("on each side" in finding.reason) is not is_judged


def test_a_group_with_one_round_alone_is_missing_and_no_part_of_the_effect() -> None:
    whole = turns(published())
    more = [row("d1", f"h{number}", T, 400.0, round=1) for number in range(3)]
    some, many = (only(weighed([*whole, *rows], CROSS_OVER)) for rows in (more, [*more, row("d1", "h9", R, 1.0, round=2)]))
    for finding in (some, many):
        assert finding.effect is not None
        assert finding.effect.estimate == pytest.approx(46.607, abs=0.001)
    assert some.missing_share == pytest.approx(3 / 16)  # at most a fifth may be missing: 3 of 16 may, 4 of 17 may not
    assert some.verdict is not Verdict.TOO_LITTLE
    assert many.missing_share == pytest.approx(4 / 17)
    assert many.reason == "24% of the 17 groups have no values"


def test_players_without_a_card_are_missing_on_their_side() -> None:
    """Six groups of three on each side; four of the eighteen under trial rules have no card, and a search names them: 22 % are missing."""
    rows = [
        row("d1", f"{arm}{group}", arm, 80.0 + group % 3 + player, player=f"{arm}{group}{player}")
        for arm in Arm
        for group in range(6)
        for player in range(3)
        if not (arm is T and group < 4 and player == 2)
    ]
    named = [row("d1", f"trial{group}", T, 60, player=f"trial{group}2", outcome="search_s") for group in range(4)]
    finding = only(weighed([*rows, *named], GROUPS_IN_A_DAY))
    assert finding.reason == "22% of the values of rounds under trial rules are missing; at most 20% may be"
    assert finding.missing is not None
    assert finding.missing.share(T) == pytest.approx(4 / 18)
    one = only(weighed([*rows, named[0]], GROUPS_IN_A_DAY))
    assert one.missing is not None
    assert one.missing.share(T) == pytest.approx(1 / 15)


def test_searches_that_were_counted_and_not_timed_are_missing() -> None:
    trial = trial_of(expecting("search_s", 15) | LATERAL)
    rows = [row("d1", f"{arm}{group}", arm, 100.0 + group % 3, outcome="search_s") for arm in Arm for group in range(8)]
    counted = [row("d1", f"{arm}{group}", arm, 2.0 if arm is R else 1.0, outcome="searches") for arm in Arm for group in range(8)]
    finding = only(weighed([*rows, *counted], GROUPS_IN_A_DAY, trial=trial))
    assert finding.reason.startswith("50% of the values of rounds under ordinary rules are missing")
    assert only(weighed(rows, GROUPS_IN_A_DAY, trial=trial)).verdict is not Verdict.TOO_LITTLE


def test_the_missing_could_turn_it_where_their_ends_reach_beyond_nothing() -> None:
    """One card of ten under trial rules is missing (a tenth): the lowest of the twentieths seen is 80, the highest 84.

    Mean of trial 81 (80 to 82), of ordinary 83 (82 to 84): -2; with the missing tenth at 80 the mean falls by 0.1, at 84 it rises by 0.3.
    """
    rows = [row("d1", f"t{number}", T, 80.0 + number % 3, player=f"t{number}") for number in range(9)]
    rows += [row("d1", f"o{number}", R, 82.0 + number % 3, player=f"o{number}") for number in range(9)]
    known = row("d1", "t1", T, 60.0, player="gone", outcome="search_s")
    finding = only(weighed([*rows, known], GROUPS_IN_A_DAY))
    assert finding.missing_bounds == pytest.approx((-2.1, -1.7))
    assert only(weighed(rows, GROUPS_IN_A_DAY)).missing_bounds is None


def test_a_half_of_the_field_is_one_unit_however_many_play() -> None:
    rows = [
        row(f"d{day}", "", arm, 80.0 + day % 5 + player + 4 * (number == 2), player=f"{day}{player}", round=number)
        for day in range(14)
        for number, arm in enumerate((T, R) if day % 2 else (R, T), start=1)
        for player in range(5)
    ]
    finding = only(weighed(rows, CROSS_OVER_BY_HALF))
    assert finding.effect is not None
    assert finding.effect.units == 14
    assert finding.effect.estimate == pytest.approx(0.0)
    assert finding.reason.startswith("the days show no spread")


def test_pace_is_judged_by_halves_on_days_of_their_own_and_not_by_groups() -> None:
    trial = trial_of(expecting("round_min", 5))
    orders = [(T if number % 2 else R, 240.0 + number % 3, 250.0 + number % 4) for number in range(16)]
    groups = [row("d1", f"g{n}", entry.arm, entry.value, round=entry.round, outcome="round_min") for n, entry in enumerate(turns(orders))]
    by_groups = only(weighed(groups, CROSS_OVER, trial=trial))
    assert by_groups.effect is None
    assert by_groups.reason.startswith("groups of one day share its pace")
    halves = [
        row(f"d{n // 2}", "", entry.arm, entry.value, round=entry.round, outcome="round_min", player="x")
        for n, entry in enumerate(turns(orders))
    ]
    by_half = only(weighed(halves, CROSS_OVER_BY_HALF, trial=trial))
    assert by_half.effect is not None
    assert by_half.effect.units == 16


def test_an_outcome_under_one_set_of_rules_alone_is_told() -> None:
    rows = [row("d1", f"g{number}", T, 80.0 + number, player=str(number)) for number in range(9)]
    assert only(weighed(rows, GROUPS_IN_A_DAY)).reason == (
        "it was recorded under trial rules alone, so that there is nothing to hold it against"
    )
    first = [row("d1", f"g{number}", T, 80.0 + number, round=1) for number in range(9)]
    assert "under trial rules alone" in only(weighed(first, CROSS_OVER)).reason


def test_counts_are_held_against_those_of_the_same_day() -> None:
    trial = trial_of(expecting("rulings", 1) | LATERAL)
    rows = [
        row(f"d{day}", f"{arm}{group}", arm, float(2 + group % 2 + 2 * (arm is R)), outcome="rulings")
        for day in range(3)
        for arm in Arm
        for group in range(6)
    ]
    finding = only(weighed(rows, GROUPS_IN_A_DAY, trial=trial))
    assert finding.ratio is not None
    # 2.5 for each group under trial rules, 4.5 under ordinary ones
    assert (finding.ratio.trial_count, finding.ratio.ordinary_count) == (45, 81)
    assert finding.ratio.ratio.estimate == pytest.approx(45 / 81, abs=0.01)
    assert finding.effect is not None
    assert finding.effect.estimate == pytest.approx(-2.0)


def test_a_single_group_that_turns_the_word_is_named() -> None:
    rows = groups_of_days(6, 6, effect=-2.0, days=1)
    rows[0] = row("d0", "trial0", T, 40.0, player="trial0")
    finding = only(weighed(rows, GROUPS_IN_A_DAY))
    assert finding.verdict is Verdict.NOT_SHOWN
    assert "d0 trial0" in finding.turned_by


@pytest.mark.parametrize(
    ("rows", "words", "reason"),
    [
        ([row("d1", "", T, 80, player="a")], GROUPS_IN_A_DAY, "column group: it names no group"),
        ([row("d1", "g1", None, 80)], GROUPS_IN_A_DAY, "column arm: nothing says"),
        ([row("d1", "g1", T, 80)], CROSS_OVER, "column round: it says no round"),
        ([row("d1", "g1", T, 80, round=1), row("d1", "g1", T, 81, round=2)], CROSS_OVER, "has played both rounds under trial rules"),
        ([row("d1", "a", T, 80, round=1), row("d1", "b", R, 81, round=1)], CROSS_OVER_BY_HALF, "d1 has both sets of rules in one round"),
        ([row("d1", "g1", T, 80, period="afternoon")], GROUPS_IN_A_DAY, "nothing says that a full round's time was left free"),
    ],
)
def test_rows_that_cannot_be_weighed_are_told_with_their_column(rows: list[Observation], words: DesignWords, reason: str) -> None:
    report = weighed(rows, words)
    assert [reason in left.reason for left in report.records.left_out] == [True] * len(rows)
    assert not report.records.observations


def test_the_first_wave_alone_counts_where_the_plan_says_so() -> None:
    rules: dict[Unit, tuple[Arm, ...]] = {Unit(event="d1", group="g1"): (T,)}
    rows = [row("d1", "g1", T, 80, period="morning"), row("d1", "g1", T, 80, period="afternoon")]
    report = weighed(rows, GROUPS_IN_A_DAY, rules=rules, days=[a_day("d1", facts=(("wash-out", "yes"),))])
    assert [left.reason for left in report.records.left_out] == ["column period: the plan weighs the first wave alone"]
    assert not report.records.left_out[0].is_query


def test_two_days_of_an_event_hold_the_two_rounds_of_a_group() -> None:
    rows = turns(published())
    two_days = [row("sat" if entry.round == 1 else "sun", entry.group, entry.arm, entry.value, round=entry.round) for entry in rows]
    report = weighed(two_days, CROSS_OVER, days=[a_day("sat", 0, "e1"), a_day("sun", 1, "e1")])
    finding = only(report)
    assert finding.effect is not None
    assert finding.effect.estimate == pytest.approx(46.607, abs=0.001)
    assert report.pairs == 13
