"""Units drawn singly where something is lacking or against the plan: lonely rounds, groups without a row, values without a spread."""

from __future__ import annotations

import pytest

from marram.evidence.design_words import CROSS_OVER, GROUPS_IN_A_DAY
from marram.evidence.designs.drawn_units import Drawing, Unit
from marram.evidence.designs.unit_rows import departures_of_units
from marram.evidence.verdicts import Verdict
from marram.records.rows import Arm, TrialRecords
from tests.support.seasons import expecting, only, trial_of
from tests.unit.evidence.test_units_compared import LATERAL, R, T, a_day, groups_of_days, row, turns, weighed

RULINGS = trial_of(expecting("rulings", 1) | LATERAL)


def test_groups_of_a_day_under_one_set_of_rules_are_not_counted_among_the_six() -> None:
    more = [row("d9", f"g{number}", T, 80.0 + number, player=str(number)) for number in range(9)]
    assert only(weighed([*groups_of_days(2, 8), *more], GROUPS_IN_A_DAY)).reason.startswith("4 groups on each side")


def test_what_was_counted_in_a_lonely_round_is_not_held_against_anything() -> None:
    orders = [(T if number % 2 else R, 4.0, 4.0) for number in range(12)]
    rows = [row("d1", entry.group, entry.arm, entry.value, round=entry.round, outcome="rulings") for entry in turns(orders)]
    lonely = row("d1", "g99", T, 30.0, round=1, outcome="rulings")
    finding = only(weighed([*rows, lonely], CROSS_OVER, trial=RULINGS))
    assert finding.ratio is not None
    assert (finding.ratio.trial_count, finding.ratio.ordinary_count) == (48, 48)


def test_a_group_of_which_no_value_is_there_is_missing_on_the_side_that_it_was_drawn_for() -> None:
    """Ten groups on each side by the plan. Rulings: two groups under trial rules have none, 2 of 10. Strokes of three players: 6 of 30."""
    rules: dict[Unit, tuple[Arm, ...]] = {Unit(event="d1", group=f"{arm}{number}"): (arm,) for arm in Arm for number in range(10)}
    names = [(arm, number) for arm in Arm for number in range(10) if not (arm is T and number < 2)]
    rulings = [row("d1", f"{arm}{number}", arm, float(number % 3), outcome="rulings") for arm, number in names]
    of_rulings = only(weighed(rulings, GROUPS_IN_A_DAY, trial=RULINGS, rules=rules, days=[a_day("d1")]))
    assert of_rulings.missing is not None
    assert of_rulings.missing.share(T) == pytest.approx(0.2)
    assert of_rulings.missing.share(R) == 0
    assert of_rulings.missing_share == pytest.approx(0.1)
    strokes = [row("d1", f"{arm}{number}", arm, 80.0 + number, player=f"{arm}{number}{p}") for arm, number in names for p in range(3)]
    of_strokes = only(weighed(strokes, GROUPS_IN_A_DAY, rules=rules, days=[a_day("d1")]))
    assert of_strokes.missing is not None
    assert of_strokes.missing.expected[T] == pytest.approx(30)
    assert of_strokes.missing.seen[T] == 24


def test_values_that_all_differ_alike_bound_nothing_and_rounding_is_no_spread() -> None:
    rows = [row("d1", f"{arm}{number}", arm, 78.0 if arm is T else 80.0, player=f"{number}") for arm in Arm for number in range(8)]
    finding = only(weighed(rows, GROUPS_IN_A_DAY))
    assert finding.effect is not None
    assert finding.effect.estimate == pytest.approx(-2.0)
    assert not finding.effect.interval95.is_bounded
    assert finding.reason.startswith("the groups show no spread")
    # 80.1 less 80 and 10.1 less 10 differ in the fifteenth place alone
    level = [10.0, 80.0, 33.3, 51.7, 64.9, 95.2]
    turned = only(weighed(turns([(T, one + 0.1, one) for one in level] + [(R, one, one + 0.1) for one in level]), CROSS_OVER))
    assert turned.verdict is Verdict.TOO_LITTLE
    assert turned.reason.startswith("the groups show no spread")


def test_what_is_missing_under_ordinary_rules_reaches_the_other_way() -> None:
    """One card of ten under ordinary rules is missing: mean 83, seen 80 to 84. At 84 the difference falls by 0.1, at 80 it rises by 0.3."""
    level = {T: 80.0, R: 82.0}
    rows = [row("d1", f"{arm}{n}", arm, level[arm] + n % 3, player=f"{arm}{n}") for arm in Arm for n in range(9)]
    known = row("d1", "ordinary1", R, 60.0, player="gone", outcome="search_s")
    assert only(weighed([*rows, known], GROUPS_IN_A_DAY)).missing_bounds == pytest.approx((-2.1, -1.7))


def test_searches_that_nobody_counted_are_held_against_each_other_group_for_group() -> None:
    """Two times a group on one side and one on the other: half of the side that has fewer may be missing; four against three: a quarter."""
    trial = trial_of(expecting("search_s", 15) | LATERAL)

    def reason(of_trial: int, of_ordinary: int) -> str:
        counts = {T: of_trial, R: of_ordinary}
        rows = [
            row("d1", f"{arm}{group}", arm, 100.0 + (group + number) % 5, outcome="search_s")
            for arm in Arm
            for group in range(8)
            for number in range(counts[arm])
        ]
        return only(weighed(rows, GROUPS_IN_A_DAY, trial=trial)).reason

    assert reason(1, 2).startswith("50% of the values of rounds under trial rules are missing, held against rounds under ordinary rules")
    assert reason(4, 3).startswith("25% of the values of rounds under ordinary rules are missing, held against rounds under trial rules")
    assert "missing" not in reason(4, 4)


def of_plan(days: int = 1) -> dict[Unit, tuple[Arm, ...]]:
    return {Unit(event=f"d{day}", group=f"{arm}{n}"): (arm,) for day in range(days) for arm in Arm for n in range(8)}


def test_a_row_against_the_plan_that_is_right_after_all_is_weighed_as_it_was_drawn() -> None:
    """One of eight groups that were drawn for trial rules played under ordinary ones: 88 where the others take 80, so the mean is 81."""
    rows = [row("d0", f"{arm}{n}", arm, 80.0 if arm is T else 84.0 + n % 2, player=f"{arm}{n}") for arm in Arm for n in range(8)]
    rows[0] = row("d0", "trial0", R, 88.0, player="trial0", is_checked=True)
    report = weighed(rows, GROUPS_IN_A_DAY, rules=of_plan())
    finding = only(report)
    assert finding.effect is not None
    assert finding.effect.trial_mean == pytest.approx(81.0)
    assert finding.effect.units == 16
    assert not report.records.left_out
    told = TrialRecords(days=(a_day("d0"),), observations=tuple(rows))
    drawing = Drawing(design=GROUPS_IN_A_DAY.design, rules=of_plan(2))
    assert departures_of_units(told, drawing) == ("d1 was planned and not played.", "d0 trial0 was played otherwise than it was drawn.")
    gone = TrialRecords(days=(a_day("d0"),), observations=tuple(rows[1:]))
    assert departures_of_units(gone, drawing) == ("d1 was planned and not played.", "d0 trial0 was drawn and has no value.")


def test_the_rules_of_each_round_are_those_that_were_drawn_for_it() -> None:
    orders = [(T if n % 2 else R, 80.0 + n % 3, 81.0 + n % 4) for n in range(16)]
    rules: dict[Unit, tuple[Arm, ...]] = {
        Unit(event="d1", group=f"g{n}"): (first, R if first is T else T) for n, (first, _, _) in enumerate(orders)
    }
    assert not weighed(turns(orders), CROSS_OVER, rules=rules).records.left_out
    other: dict[Unit, tuple[Arm, ...]] = {unit: (two, one) for unit, (one, two) in rules.items()}
    left_out = weighed(turns(orders), CROSS_OVER, rules=other).records.left_out
    assert len(left_out) == 32
    assert left_out[0].reason == "column arm: d1 g0 was drawn for trial rules in round 1, and the row says ordinary"


def test_groups_of_two_days_are_two_groups_though_the_days_are_named_together() -> None:
    rows = [row(f"d{day}", f"{arm}{n}", arm, 80.0 + n + 9 * day, player=f"{arm}{n}") for day in (0, 1) for arm in Arm for n in range(8)]
    finding = only(weighed(rows, GROUPS_IN_A_DAY, days=[a_day("d0", 0, "e1"), a_day("d1", 1, "e1")]))
    assert finding.effect is not None
    assert finding.effect.units == 32


def test_a_wave_that_does_not_count_is_not_missing() -> None:
    rules: dict[Unit, tuple[Arm, ...]] = {
        Unit(event="d1", group=f"{arm}{n}", period=wave): (arm,) for wave in ("morning", "afternoon") for arm in Arm for n in range(8)
    }
    rows = [row("d1", unit.group, arm, 80.0 + 3 * (arm is R), player=unit.name, period=unit.period) for unit, (arm,) in rules.items()]
    finding = only(
        weighed(rows, GROUPS_IN_A_DAY, rules=rules, days=[a_day("d1")], trial=trial_of(expecting("strokes", 2), status='"closed"'))
    )
    assert finding.effect is not None
    assert finding.effect.units == 16
    assert finding.missing_share == 0


def test_before_all_units_are_played_an_open_trial_has_no_word() -> None:
    rows = [row("d0", f"{arm}{n}", arm, 80.0 + n % 3 - 6 * (arm is T), player=f"{arm}{n}") for arm in Arm for n in range(8)]
    early = weighed(rows, GROUPS_IN_A_DAY, rules=of_plan(2))
    assert early.is_interim
    assert only(early).reason.startswith("interim: 16 of 32 groups are played")
    assert only(weighed(rows, GROUPS_IN_A_DAY, rules=of_plan(1))).verdict is Verdict.DOES_IT
