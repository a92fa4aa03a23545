"""The sentence over a change: what was measured, under which rule, and what keeps it from being taken at its word."""

from __future__ import annotations

import pytest

from marram.evidence.weighing.headlines import headline, rule_under
from marram.records.outcomes import Weighing, outcomes
from marram.records.rows import Arm, TrialDay
from marram.rulebook import open_book, packaged_catalogue
from marram.rulebook.differences.told_change import ToldChange, tell_change
from tests.support.seasons import days_of, expecting, only, rows_of, steady, trial_of, weigh

TOLD = ToldChange(about="Time allowed", before="3 minutes", now="2 minutes")
MORE, LESS = ("more", "longer", "higher", "farther"), ("fewer", "less", "lower", "nearer")


@pytest.mark.parametrize("key", outcomes())
def test_each_outcome_says_its_number_up_and_down_and_names_its_rows(key: str) -> None:
    outcome = outcomes()[key]
    up, down = outcome.says_up, outcome.says_down
    assert up.count("{number}") == down.count("{number}") == 1
    assert any(word in up.split() for word in MORE)
    assert any(word in down.split() for word in LESS)
    assert not any(word in up.split() for word in LESS)
    for word, other in zip(MORE[1:], LESS[1:], strict=True):
        assert (word in up.split()) is (other in down.split()) or "less" in down.split()
    assert outcome.called
    assert "_" not in outcome.called + up + down


@pytest.mark.parametrize("key", [key for key, outcome in outcomes().items() if not outcome.is_answer])
@pytest.mark.parametrize("less", [True, False])
def test_the_headline_of_each_outcome_goes_the_way_that_was_measured(key: str, less: bool) -> None:  # noqa: FBT001
    outcome = outcomes()[key]
    days = days_of(8)
    is_share = outcome.kind is Weighing.SHARE

    def value(day: TrialDay, group: int) -> float:
        is_high, odd = (day.arm is Arm.ORDINARY) is less, int(day.pair[1:]) % 2 * (day.arm is Arm.TRIAL)
        if is_share:
            return float(group < (8 if is_high else 2) + odd)
        return round(min((outcome.least + outcome.most) / 2, 70) * (1.5 if is_high else 1.0)) + odd

    finding = only(weigh(trial_of(expecting(key, 0.01)), days, rows_of(days, key, value)))
    said = headline(finding, TOLD)
    assert finding.effect is not None
    number = ("55.0" if less else "65.0") if is_share else f"{abs(finding.effect.estimate):.2f}"
    template = outcome.says_down if less else outcome.says_up
    assert said == template.format(number=number) + " where the rule says “2 minutes” and not “3 minutes”."


def test_what_may_be_chance_and_what_is_too_little_is_said_in_the_headline() -> None:
    days = days_of(8)
    still = only(weigh(trial_of(expecting("round_min", 5)), days, rows_of(days, "round_min", lambda day, group: 200.0 + hash_of(day) % 7)))
    assert headline(still, TOLD).endswith(": this may be chance.")
    few = days_of(5)
    assert headline(only(weigh(trial_of(expecting("round_min", 5)), few, rows_of(few, "round_min", steady(220, 240)))), TOLD).endswith(
        ": too little to judge by."
    )


def hash_of(day: TrialDay) -> int:
    """A number of a day that has nothing to do with its rules."""
    return int(day.pair[1:]) * 3 + (5 if (day.arm is Arm.TRIAL) is bool(int(day.pair[1:]) % 2) else 0)


def test_changes_that_no_day_tells_apart_are_named_together_and_long_rules_by_number() -> None:
    days = days_of(8)
    rows = rows_of(days, "round_min", steady(220, 240))
    shared = weigh(trial_of(expecting("round_min", 5), expecting("round_min", 5)), days, rows).findings[1]
    assert headline(shared, TOLD).endswith("less for a round under changes 1 and 2 together.")
    alone = only(weigh(trial_of(expecting("round_min", 5)), days, rows))
    assert headline(alone, ToldChange(about="It", before="a" * 45, now="b" * 45)).endswith(f"not “{'a' * 45}”.")
    assert headline(alone, ToldChange(about="It", before="a" * 46, now="b" * 45)).endswith("less for a round under change 1.")


def test_without_days_the_change_itself_is_told() -> None:
    finding = only(weigh(trial_of(expecting("round_min", 5)), days_of(8), []))
    assert headline(finding, TOLD) == "Time allowed: 2 minutes instead of 3 minutes."
    assert rule_under(headline(finding, TOLD), TOLD) == "", "it is not said twice"
    assert rule_under("A search takes 1.00 s less.", TOLD) == TOLD.sentence


def test_changes_are_told_as_officials_read_them_out() -> None:
    base = open_book("2023", [], packaged_catalogue())
    told = [tell_change(base, change).sentence for change in trial_of(*[expecting("round_min", 5)] * 4).changes]
    assert told == [
        "Time allowed for looking for a ball before it is lost: 2 minutes instead of 3 minutes.",
        "The larger size of a relief area, used for lateral relief: four club-lengths instead of two club-lengths.",
        "How long a player may wait to see whether a ball overhanging the hole falls in: 20 seconds instead of 10 seconds.",
        "The smaller size of a relief area: 1 metre instead of one club-length.",
    ]
