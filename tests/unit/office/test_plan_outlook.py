"""What a plan says of how its season may end: guards, shared outcomes, and a stamp that covers it all."""

from __future__ import annotations

import pytest

from marram.answers.shape import json_text
from marram.answers.trials.plan_answer import trial_plan_answer
from marram.office.trials.plan_trial import plan_trial, read_plan
from marram.office.trials.planned_trial import PlannedChange, PlannedOutlook, Spread
from tests.support.seasons import expecting, trial_of

ROUND = expecting("round_min", 6)
SPREAD = Spread(sd={"round_min": 5.0, "waiting_min": 3.0, "strokes": 1.0}, met={}, players=75)


def outlooks(change: PlannedChange) -> tuple[PlannedOutlook, ...]:
    assert isinstance(change.outlook, tuple)
    return change.outlook


def test_the_outlook_tells_what_power_alone_does_not() -> None:
    """Ten pairs with sd 5 find an effect of 5 with a chance of 80 %: of 6, surely; yet half of the seasons come out below 6."""
    (change,) = plan_trial(trial_of(ROUND), SPREAD, pairs=10, seed="moor").changes
    assert [entry.supposed for entry in outlooks(change)] == [0, 6, 9, 12]
    nothing, matters, _, twice = outlooks(change)
    assert nothing.did < 0.03
    assert matters.did == pytest.approx(0.5, abs=0.06)
    assert twice.did > 0.95
    for entry in outlooks(change):
        assert entry.did + entry.mixed + entry.did_not + entry.open == pytest.approx(1)


def test_a_guard_without_a_spread_is_named_and_one_with_it_is_drawn() -> None:
    guarded = ROUND | {"guards": '[{ outcome = "strokes", margin = 0.6, worse = "either" }]'}
    (drawn,) = plan_trial(trial_of(guarded), SPREAD, pairs=10, seed="moor").changes
    (without,) = plan_trial(trial_of(guarded), Spread(sd={"round_min": 5.0}, met={}, players=75), pairs=10, seed="moor").changes
    assert (drawn.outlook_lacks, without.outlook_lacks) == ((), ("strokes",))
    # 90 % of a guard's interval with sd 1 over ten pairs is +-0.58: inside +-0.6 hardly ever.
    assert outlooks(drawn)[3].did < 0.2
    assert outlooks(without)[3].did > 0.95


def test_lost_pairs_cost_chances() -> None:
    spread = Spread(sd=SPREAD.sd, met={}, players=75, lost=0.25)
    (change,) = plan_trial(trial_of(ROUND), spread, pairs=10, seed="moor").changes
    assert outlooks(change)[3].open > 0.3


def test_changes_that_no_day_tells_apart_are_named() -> None:
    planned = plan_trial(trial_of(ROUND, expecting("waiting_min", 4), ROUND), SPREAD, pairs=10, seed="moor")
    assert [change.together for change in planned.changes] == [(3,), (), (1,)]
    first, _, third = planned.changes
    assert outlooks(first) == outlooks(third)


def test_the_stamp_covers_the_outlook_and_the_file_is_read_back() -> None:
    planned = plan_trial(trial_of(ROUND), SPREAD, pairs=10, seed="moor")
    text = json_text(trial_plan_answer(planned))
    assert read_plan(text, where="plan.json").stamp == planned.stamp
    altered = text.replace('"did": 1.0', '"did": 0.9', 1) if '"did": 1.0' in text else text.replace('"did": 0.', '"did": 0.1', 1)
    assert altered != text
    with pytest.raises(Exception, match="altered after it was frozen"):
        read_plan(altered, where="plan.json")
