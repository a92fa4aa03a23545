"""How many answers and counted rounds a plan of days needs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from msgspec import UNSET

from marram.evidence.planning.rows_needed import answers_for, rounds_for
from marram.evidence.planning.spread_of_past import SpreadOfPast, TakenFrom, VarianceComponents
from marram.office.trials.past_season import rows_needed
from marram.office.trials.planned_trial import Spread
from marram.records.outcomes import outcomes
from tests.support.seasons import expecting, trial_of

ALIKE = VarianceComponents(between=0.1, within=1.9, clusters=10, values=250, size=25)
RULINGS = SpreadOfPast(
    outcome=outcomes()["rulings"],
    taken_from=TakenFrom.PAIRS,
    sd=0.3,
    freedom=9,
    sd_upper=0.4,
    components=ALIKE,
    values_a_day=25,
    rate=2.0,
    dispersion=0.5,
)


def test_rounds_by_a_published_way_and_the_day() -> None:
    """2 rulings a round, dispersion 0.5, 0.7 times as many: 137 rounds; 25 of a day, 0.05 alike: 1 + 24 x 0.05 = 2.2, so 302."""
    found = rounds_for(RULINGS, more=-0.6, pairs=12, is_to_move=True)
    assert found is not None
    assert found.each == 137
    assert found.wanted == pytest.approx(0.7)
    assert found.design_effect == pytest.approx(2.2)
    assert found.each_with_days == 302
    assert found.planned == 300
    assert found.equal_shown is None


def test_a_rate_that_is_to_stay_is_shown_with_a_chance_that_grows_with_the_plan() -> None:
    few, many = (rounds_for(RULINGS, more=0.5, pairs=pairs, is_to_move=False) for pairs in (40, 120))
    assert few is not None
    assert many is not None
    assert few.each is None
    assert few.equal_shown is not None
    assert many.equal_shown is not None
    assert 0 <= few.equal_shown < many.equal_shown <= 1
    fewer = rounds_for(RULINGS, more=2 / 1.25 - 2, pairs=120, is_to_move=False)
    assert fewer is not None
    assert fewer.equal_shown == pytest.approx(many.equal_shown)


@pytest.mark.parametrize("past", [replace(RULINGS, rate=None), replace(RULINGS, dispersion=None), replace(RULINGS, rate=0.0)])
def test_what_was_not_counted_needs_no_rounds(past: SpreadOfPast) -> None:
    assert rounds_for(past, more=-0.1, pairs=12, is_to_move=True) is None


def test_a_rate_that_would_be_none_is_not_planned() -> None:
    assert rounds_for(RULINGS, more=-2.0, pairs=12, is_to_move=True) is None


def test_answers_by_a_published_way_and_the_day() -> None:
    """Shares .10 .20 .30 .25 .15, twice the odds: 207 in all, 104 each; 40 a day, 0.05 alike: 1 + 39 x 0.05 = 2.95, 307."""
    found = answers_for("fair", None, shares=(0.10, 0.20, 0.30, 0.25, 0.15), a_day=40, pairs=10)
    assert (found.each, found.each_with_days, found.planned) == (104, 307, 400)
    assert found.design_effect == pytest.approx(2.95)
    assert not found.is_assumed
    assert answers_for("fair", None, shares=None, a_day=40, pairs=10).is_assumed


def test_days_that_are_not_alike_at_all_raise_nothing() -> None:
    apart = replace(RULINGS, components=replace(ALIKE, between=0.0))
    found = rounds_for(apart, more=-0.6, pairs=12, is_to_move=True)
    assert found is not None
    assert (found.design_effect, found.each_with_days) == (1.0, 137)
    few = answers_for("fair", None, shares=None, a_day=0.5, pairs=10)
    assert few.design_effect == 1.0


def test_a_guard_of_what_must_not_become_rarer_is_looked_at_that_way() -> None:
    guarded = expecting("round_min", 6) | {"guards": '[{ outcome = "rulings", margin = 0.5, worse = "down" }]'}
    spread = Spread(sd={"round_min": 5.0}, met={}, players=75, past=(RULINGS,))
    found = rows_needed(trial_of(guarded), spread, 40)
    assert found is not UNSET
    (row,) = found
    assert row.wanted == pytest.approx(0.75)
    assert row.each is None
