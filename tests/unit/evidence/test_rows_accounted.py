"""Every row is accounted for, and rows that are missing weigh on the word."""

from __future__ import annotations

import random

import pytest

from marram.evidence.verdicts import Verdict
from marram.evidence.weighing.account import bounds_for_the_missing, missing_of
from marram.records.outcomes import outcomes
from marram.records.rows import Arm, LeftOutRow, Observation, TrialDay, TrialRecords
from tests.support.seasons import days_of, expecting, only, rows_of, steady, trial_of, weigh

ROUND = trial_of(expecting("round_min", 5))
LATERAL = {"key": '"relief.lateral.size"', "was": "{ club_lengths = 2 }", "now": "{ club_lengths = 4 }"}
SEARCH = trial_of(expecting("search_s", 15) | LATERAL)


def without(rows: list[Observation], share: float, arm: Arm, seed: int = 3) -> list[Observation]:
    """The rows with a share of those of one side taken out at random."""
    chance = random.Random(seed)
    side = [number for number, row in enumerate(rows) if row.day.startswith(arm.value)]
    gone = set(chance.sample(side, round(share * len(side))))
    return [row for number, row in enumerate(rows) if number not in gone]


@pytest.mark.parametrize("arm", list(Arm))
@pytest.mark.parametrize("outcome", ["round_min", "search_s"])
@pytest.mark.parametrize(("share", "is_judged"), [(0.0, True), (0.3, False), (0.92, False)])
def test_what_is_missing_on_one_side_leaves_too_little_to_judge(arm: Arm, outcome: str, share: float, is_judged: bool) -> None:
    days = days_of(8)
    rows = without(rows_of(days, outcome, steady(100, 140), groups=20), share, arm)
    finding = only(weigh(ROUND if outcome == "round_min" else SEARCH, days, rows))
    assert (finding.verdict is not Verdict.TOO_LITTLE) is is_judged
    assert is_judged or f"of the values of {arm.value} days are missing" in finding.reason


def test_a_smaller_field_is_not_missing_where_the_table_of_days_says_so() -> None:
    days = tuple(
        TrialDay(**{name: getattr(day, name) for name in ("day", "dated", "pair", "arm", "course")}, facts=(("field", field),))
        for day, field in ((day, "30" if day.arm is Arm.TRIAL else "60") for day in days_of(8))
    )
    rows = [row for row in rows_of(days, "round_min", steady(220, 240), groups=20) if row.day.startswith("ord") or int(row.group[1:]) < 10]
    assert only(weigh(ROUND, days, rows)).verdict is Verdict.DOES_IT
    silent = days_of(8)
    assert only(weigh(ROUND, silent, rows)).verdict is Verdict.TOO_LITTLE


def test_searches_that_were_counted_say_how_many_times_should_have_been_written_down() -> None:
    """Fifteen searches for each twenty are no gap where fifteen were counted; ten of fifteen are a third missing."""
    days = days_of(8)

    def rows_for(written: int, counted: int) -> list[Observation]:
        found = rows_of(days, "search_s", steady(100, 140), groups=20)
        found = [row for row in found if row.day.startswith("ord") or int(row.group[1:]) < written]
        return found + [
            Observation(day=day.day, outcome="searches", value=counted if day.arm is Arm.TRIAL else 20, group="all") for day in days
        ]

    assert only(weigh(SEARCH, days, rows_for(15, 15))).verdict is Verdict.DOES_IT
    short = only(weigh(SEARCH, days, rows_for(10, 15)))
    assert short.verdict is Verdict.TOO_LITTLE
    assert short.reason.startswith("33% of the values of trial days")


def test_missing_values_that_could_turn_the_word_take_it_away() -> None:
    """Nine of ten groups of a trial day at 100 and the tenth missing, all ordinary ones at 101 but one at 160: the missing may be a 160."""
    days = days_of(8)

    def value(day: TrialDay, group: int) -> float:
        if day.arm is Arm.TRIAL:
            return 100.0 + int(day.pair[1:]) % 3 * 0.1
        return 160.0 if group == 9 else 101.0

    rows = [row for row in rows_of(days, "round_min", value) if row.day.startswith("ord") or row.group != "g9"]
    trial = trial_of(expecting("round_min", 3))
    finding = only(weigh(trial, days, rows))
    assert finding.effect is not None
    assert finding.effect.estimate == pytest.approx(100.1 - 106.9, abs=0.1)  # praise, by the numbers alone
    # With the missing group at 160 a trial day's mean is (9 x 100.1 + 160) / 10 = 106.09; the ordinary day stays at 106.9.
    assert finding.missing_bounds is not None
    assert finding.missing_bounds[1] == pytest.approx(106.09 - 106.9, abs=0.15)


def test_bounds_are_those_of_the_outermost_twentieth() -> None:
    days = days_of(1)
    outcome = outcomes()["round_min"]
    rows = [Observation(day="trial0", outcome="round_min", value=value, group=f"g{value:g}") for value in (100.0, 110.0)]
    rows += [Observation(day="ordinary0", outcome="round_min", value=value, group=f"g{n}") for n, value in enumerate((120.0, 130.0, 140.0))]
    records = TrialRecords(days=days, observations=tuple(rows))
    missing = missing_of(outcome, rows, records)
    assert missing.by_day == {"trial0": 1.0, "ordinary0": 0.0}
    values = {"trial0": [100.0, 110.0], "ordinary0": [120.0, 130.0, 140.0]}
    low, high = bounds_for_the_missing(outcome, [(days[0], days[1])], values, missing) or (0.0, 0.0)
    assert low == pytest.approx((100 + 110 + 100) / 3 - 130)
    assert high == pytest.approx((100 + 110 + 140) / 3 - 130)


def test_a_pair_that_alone_turns_the_word_is_named() -> None:
    days = days_of(8)

    def value(day: TrialDay, group: int) -> float:
        number = int(day.pair[1:])
        effect = 20.0 if number == 5 else -4.0 - number % 3
        return 240 + (effect if day.arm is Arm.TRIAL else 0.0)

    finding = only(weigh(trial_of(expecting("round_min", 3)), days, rows_of(days, "round_min", value)))
    assert finding.verdict is Verdict.NOT_SHOWN
    assert finding.turned_by == ("p5",)
    calm = only(weigh(ROUND, days, rows_of(days, "round_min", steady(220, 240))))
    assert calm.turned_by == ()


def test_an_outcome_of_one_side_alone_has_nothing_to_be_held_against() -> None:
    days = days_of(8)
    rows = [row for row in rows_of(days, "round_min", steady(220, 240)) if row.day.startswith("trial")]
    finding = only(weigh(ROUND, days, rows))
    assert (finding.verdict, finding.reason) == (
        Verdict.TOO_LITTLE,
        "it was recorded on trial days alone, so that there is nothing to hold it against",
    )


def test_read_is_weighed_and_left_out_by_outcome_and_day() -> None:
    days = days_of(6)
    rows = rows_of(days, "round_min", steady(220, 240)) + rows_of(days[:1], "green_repair_s", lambda day, group: 30.0)
    left_out = (LeftOutRow(where="row 7", reason="another form", day="trial0", outcome="round_min"),)
    from marram.evidence.findings import weigh_trial

    report = weigh_trial(ROUND, TrialRecords(days=days, observations=tuple(rows), left_out=left_out))
    told = {(row.outcome, row.day): row for row in report.rows}
    assert (told["round_min", "trial0"].read, told["round_min", "trial0"].weighed) == (11, 10)
    assert told["round_min", "trial0"].left_out == (("another form", 1),)
    assert told["green_repair_s", "trial0"].left_out == (("no verdict or answer rests on it", 10),)
    assert sum(row.read for row in report.rows) == len(rows) + 1
    assert all(row.read == row.weighed + sum(count for _, count in row.left_out) for row in report.rows)
