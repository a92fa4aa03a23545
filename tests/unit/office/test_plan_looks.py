"""Looks in the plan of a trial: frozen with it, read back, and told by the report; and changes that a plan sends elsewhere."""

from __future__ import annotations

import json

import pytest

from marram.answers.shape import json_text
from marram.answers.trials.plan_answer import trial_plan_answer
from marram.core.errors import StudyError
from marram.office.trials.plan_trial import ReadPlan, plan_trial, read_plan
from marram.office.trials.planned_trial import PlannedTrial, Spread
from marram.office.trials.report_trial import report_trial
from marram.office.workroom import Workroom
from tests.support.seasons import days_of, expecting, rows_of, steady, trial_of
from tests.unit.evidence.test_planned_looks import OPEN, lying, season

ROUND = expecting("round_min", 6)
SPREAD = Spread(sd={"round_min": 5.0, "waiting_min": 3.0, "strokes": 1.0}, met={1: 0.5}, players=75, lost=0.1)
GUARDED = ROUND | {"guards": '[{ outcome = "strokes", margin = 0.6, worse = "either" }]'}

BASE = Workroom().book("2023")


def frozen(planned: PlannedTrial) -> ReadPlan:
    return read_plan(json_text(trial_plan_answer(planned)), where="plan.json")


def test_a_plan_without_looks_has_the_stamp_that_it_always_had() -> None:
    planned = plan_trial(trial_of(GUARDED, expecting("waiting_min", 4)), SPREAD, pairs=12, seed="moor")
    assert planned.stamp == "93fa 5aaa"
    content = json.loads(json_text(trial_plan_answer(planned)))
    assert "looks" not in content
    assert frozen(planned).looks is None


def test_looks_are_frozen_with_their_bounds_and_read_back() -> None:
    """O'Brien and Fleming, 1979, for three looks."""
    planned = plan_trial(trial_of(ROUND), SPREAD, pairs=24, seed="moor", looks=3)
    content = json.loads(json_text(trial_plan_answer(planned)))
    assert [look["pairs"] for look in content["looks"]] == [8, 16, 24]
    assert [look["bound"] for look in content["looks"]] == pytest.approx([3.471, 2.454, 2.004], abs=6e-4)
    read = frozen(planned)
    assert read.stamp == planned.stamp
    assert read.looks is not None
    assert [look.pairs for look in read.looks.planned] == [8, 16, 24]
    assert len(content["changes"][0]["outlook"][0]["ended_at"]) == 2
    altered = json_text(trial_plan_answer(planned)).replace("3.471", "2.471")
    with pytest.raises(StudyError, match="altered after it was frozen"):
        read_plan(altered, where="plan.json")


def test_what_can_be_found_is_found_at_the_last_bound() -> None:
    """24 pairs, sd 5: at 2.004 in place of 1.960 t is larger, so is the least effect, by about one part in seventy."""
    (once,) = plan_trial(trial_of(ROUND), SPREAD, pairs=24, seed="moor").changes
    (thrice,) = plan_trial(trial_of(ROUND), SPREAD, pairs=24, seed="moor", looks=3).changes
    assert isinstance(once.least_effect, float)
    assert isinstance(thrice.least_effect, float)
    assert 1.01 < thrice.least_effect / once.least_effect < 1.03


def test_the_report_of_a_plan_with_looks_tells_the_look() -> None:
    trial = trial_of(ROUND, **OPEN)
    plan = frozen(plan_trial(trial, SPREAD, pairs=24, seed="moor", looks=3))
    passed = report_trial(trial, season(round_min=lying(-7, 3.6, 8)), plan, BASE)
    assert passed.weighed.is_interim
    assert passed.weighed.findings[0].overall.value == "did what it was meant to"
    assert passed.weighed.look is not None
    between = report_trial(trial, season(round_min=lying(-7, 3.6, 10)), plan, BASE)
    assert between.weighed.findings[0].overall.value == "open"


def test_a_change_that_the_plan_sends_to_a_station_gets_no_word_from_days() -> None:
    """Rows of its outcome and of its guard are there and speak loudly; the plan says that days do not judge it."""
    trial = trial_of(ROUND, expecting("waiting_min", 4) | {"guards": '[{ outcome = "strokes", margin = 5, worse = "up" }]'})
    days = days_of(10)
    rows = [
        *rows_of(days, "round_min", steady(220, 240)),
        *rows_of(days, "waiting_min", steady(20, 40)),
        *rows_of(days, "strokes", steady(90, 90.1)),
    ]
    records = type(season(round_min=[1.0, 2.0]))(days=days, observations=tuple(rows))
    plan = frozen(plan_trial(trial, SPREAD, pairs=10, seed="moor", left_out=frozenset({2})))
    assert plan.elsewhere == {2}
    by_days, elsewhere = report_trial(trial, records, plan, BASE).weighed.findings
    assert by_days.verdict.value == "does it: clearly enough to matter"
    assert elsewhere.verdict.value == "too little to judge"
    assert elsewhere.reason == "the plan sends it to a station or a clarity exercise, and days do not judge it"
    assert elsewhere.overall.value == "open"
    assert elsewhere.guards[0].word.value == "not shown that it is kept"
    # without the plan both are weighed
    assert report_trial(trial, records, None, BASE).weighed.findings[1].verdict.value == "does it: clearly enough to matter"
