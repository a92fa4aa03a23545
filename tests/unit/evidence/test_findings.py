"""What a trial showed, change by change: too few pairs, too few events, missing days, guards, and what nobody met."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from marram.evidence.findings import weigh_trial
from marram.evidence.guards import GuardWord
from marram.evidence.verdicts import Overall, Verdict
from marram.evidence.weighing.told_findings import ChangeFinding
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from marram.rulebook import packaged_catalogue
from marram.rulebook.overlays.overlay import Overlay, read_overlay

TRIAL = """
title = "A trial"
dated = 2026-03-01
on = ["2023"]
[[change]]
key = "search.limit_min"
was = 3
now = 2
because = "Quicker."
expects = {{ outcome = "{outcome}", direction = "down", matters = {matters} }}
guards = [{{ outcome = "strokes", margin = 1 }}]
observes = ["{outcome}", "strokes", "change_met"]
"""


def trial(outcome: str = "search_s", matters: float = 10) -> Overlay:
    return read_overlay(TRIAL.format(outcome=outcome, matters=matters), name="t", catalogue=packaged_catalogue())


def season(pairs: int) -> tuple[TrialDay, ...]:
    first = date(2026, 4, 4)
    return tuple(
        TrialDay(day=f"{arm.value}{n}", dated=first + timedelta(weeks=2 * n + (arm is Arm.ORDINARY)), pair=f"p{n}", arm=arm, course="Moor")
        for n in range(pairs)
        for arm in Arm
    )


def found(pairs: int, outcome: str, trial_value: float, ordinary_value: float, *more: Observation, matters: float = 10) -> ChangeFinding:
    """The finding where each day has one value, a little more on each day than on the one before."""
    days = season(pairs)
    values = [
        Observation(day=day.day, outcome=outcome, value=(trial_value if day.arm is Arm.TRIAL else ordinary_value) + (n * 7) % 5)
        for n, day in enumerate(days)
    ]
    (finding,) = weigh_trial(trial(outcome, matters), TrialRecords(days=days, observations=(*values, *more))).findings
    return finding


def test_a_clear_effect_without_values_for_its_guard_is_mixed() -> None:
    finding = found(8, "search_s", 60, 100)
    assert finding.verdict is Verdict.DOES_IT
    assert [guard.word for guard in finding.guards] == [GuardWord.OPEN]
    assert finding.overall is Overall.MIXED
    assert finding.effect is not None
    assert finding.effect.estimate == pytest.approx(-40, abs=5)


@pytest.mark.parametrize(("pairs", "reason"), [(5, "6 are the fewest"), (0, "no pair of days")])
def test_too_few_pairs(pairs: int, reason: str) -> None:
    finding = found(pairs, "search_s", 60, 100)
    assert finding.verdict is Verdict.TOO_LITTLE
    assert reason in finding.reason


def test_a_handful_of_events_is_too_little() -> None:
    days = season(8)
    values = [Observation(day=day.day, outcome="disputes", value=float(n == 0)) for n, day in enumerate(days)]
    (finding,) = weigh_trial(trial("disputes", 0.1), TrialRecords(days=days, observations=tuple(values))).findings
    assert finding.verdict is Verdict.TOO_LITTLE
    assert finding.reason.startswith("1 in all")


def test_what_players_found_fair_is_counted_by_step() -> None:
    """Of four answers one is the lowest of the five steps and two are the highest."""
    (first, *_) = season(8)
    assert first.arm is Arm.TRIAL
    answers = [Observation(day=first.day, outcome="fair", value=value) for value in (1, 4, 5, 5)]
    finding = found(8, "search_s", 60, 100, *answers)
    assert finding.fair is not None
    assert finding.fair.counts == (1, 0, 0, 1, 2)
    assert found(8, "search_s", 60, 100).fair is None


def test_what_nobody_met_is_too_little_however_clear_the_numbers() -> None:
    met = [Observation(day=f"trial{n}", outcome="change_met", value=0, change=1) for n in range(8)]
    finding = found(8, "search_s", 60, 100, *met)
    assert (finding.verdict, finding.reason, finding.met) == (Verdict.TOO_LITTLE, "nobody met it", 0)


def test_more_than_a_fifth_of_the_pairs_missing_is_too_little() -> None:
    days = season(9)
    values = [
        Observation(day=day.day, outcome="search_s", value=60.0 + n if day.arm is Arm.TRIAL else 100.0 + (n * 7) % 5)
        for n, day in enumerate(days)
        if day.pair not in {"p0", "p1"}
    ]
    (finding,) = weigh_trial(trial(), TrialRecords(days=days, observations=tuple(values))).findings
    assert finding.verdict is Verdict.TOO_LITTLE
    assert "22%" in finding.reason


def test_groups_of_one_day_do_not_count_as_days() -> None:
    """A hundred groups on six pairs are six pairs: the interval is that of the day means."""
    days = season(6)
    values = [
        Observation(day=day.day, outcome="search_s", value=60.0 + 10 * ((n * 7) % 5), group=f"g{group}")
        for n, day in enumerate(days)
        for group in range(50)
    ]
    (finding,) = weigh_trial(trial(), TrialRecords(days=days, observations=tuple(values))).findings
    assert finding.rows == 600
    assert finding.effect is not None
    assert finding.effect.units == 6
    assert finding.verdict is Verdict.NOT_SHOWN
    assert finding.pairs_to_settle is not None
    assert finding.pairs_to_settle > 6
