"""Pairs of days adjusted for what a plan names, as it is told beside a finding."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from marram.evidence.designs.said_besides import after_adjusting
from marram.evidence.findings import weigh_trial
from marram.evidence.verdicts import Verdict
from marram.evidence.weighing.told_findings import ChangeFinding
from marram.records.rows import Arm, TrialDay, TrialRecords
from tests.support.seasons import days_of, expecting, only, rows_of, trial_of

WIND = [1, 3, 2, 4, 1, 2, 3, 5, 2, 4]
"""How much more wind each trial day had than its ordinary day."""


def records(wind: Mapping[str, str] | None = None, effect: float = 0.0, each: float = 4.0) -> TrialRecords:
    """Pairs whose trial days had more wind, each step of which makes relief take four seconds longer."""

    def with_wind(day: TrialDay) -> TrialDay:
        steps = WIND[int(day.pair[1:])] if day.arm is Arm.TRIAL else 0
        told = (wind or {}).get(day.day, str(10 + steps))
        return replace(day, facts=(("field", "75"), ("wind", told)) if told else (("field", "75"),))

    def value(day: TrialDay, group: int) -> float:
        number = int(day.pair[1:])
        steps = WIND[number] if day.arm is Arm.TRIAL else 0
        wobble = (0.3 if number % 2 == 0 else -0.3) * (day.arm is Arm.TRIAL)
        return 60 + number + each * steps + (effect + wobble) * (day.arm is Arm.TRIAL) + group % 3

    days = tuple(map(with_wind, days_of(10)))
    return TrialRecords(days=days, observations=tuple(rows_of(days, "relief_s", value)))


def adjusted(kept: TrialRecords, *by: str, matters: float = 6) -> ChangeFinding:
    return only(weigh_trial(trial_of(expecting("relief_s", matters)), kept, finish=[after_adjusting(by, kept)]))


def test_what_the_wind_did_is_taken_out_and_both_lines_are_told() -> None:
    """Unadjusted the trial days take 4 times 2.7 s longer; adjusted 6 s less, as was put in."""
    finding = adjusted(records(effect=-6.0, each=4.0), "wind", matters=4)
    assert finding.effect is not None
    assert finding.adjusted is not None
    assert finding.adjusted.estimate is not None
    assert abs(finding.effect.estimate - (4 * 2.7 - 6)) < 0.2
    assert abs(finding.adjusted.estimate + 6) < 0.6  # the wobble of 0.3 leans a little with the wind
    assert finding.verdict is not Verdict.DOES_IT
    (told,) = finding.besides
    assert told.startswith("Adjusted for wind, as the plan has it: ")
    assert "10 pairs of days. The word rests on the days as they were; adjusted it would be “does it: clearly enough to matter”." in told


def test_pairs_that_lack_it_are_left_out_counted_and_named() -> None:
    finding = adjusted(records({"trial3": "", "ordinary7": ""}), "wind")
    assert finding.effect is not None
    assert finding.effect.units == 10
    assert finding.adjusted is not None
    assert (finding.adjusted.pairs, finding.adjusted.left_out) == (8, ("p3", "p7"))
    assert "2 pairs left out of the adjusted line, since one day or both lack wind: p3, p7." in finding.besides


def test_what_never_differs_is_told() -> None:
    assert adjusted(records(), "field").besides == (
        "Adjusted for field, as the plan has it: it never differed between the two days of a pair, so that there is nothing to adjust for.",
    )
    both = adjusted(records(), "field", "wind").besides
    assert both[-1] == "Nothing was adjusted for field, which never differed within a pair."


def test_without_a_plan_that_names_it_nothing_is_adjusted() -> None:
    kept = records()
    finding = only(weigh_trial(trial_of(expecting("relief_s", 6)), kept))
    assert finding.adjusted is None
    assert finding.besides == ()
