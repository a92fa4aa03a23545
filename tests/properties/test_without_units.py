"""The effect without one unit, worked out of sums, is that of the other units worked out anew."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.evidence.designs.drawn_units import Unit
from marram.evidence.designs.unit_effects import effect_in_days, effect_in_turn
from marram.evidence.designs.without_units import days_without_each, turns_without_each
from marram.evidence.effects import UnitsDifference
from marram.records.rows import Arm

NUMBERS = st.integers(0, 400).map(lambda quarter: quarter / 4)


def assert_alike(found: UnitsDifference, anew: UnitsDifference | None) -> None:
    assert anew is not None
    told = (found.estimate, found.standard_error, found.trial_mean, found.ordinary_mean)
    assert told == pytest.approx((anew.estimate, anew.standard_error, anew.trial_mean, anew.ordinary_mean), abs=1e-6)
    assert found.units == anew.units
    assert found.has_spread is anew.has_spread
    assert not anew.has_spread or found.freedom == anew.freedom


@given(st.lists(st.tuples(st.integers(0, 2), st.sampled_from(list(Arm)), NUMBERS), min_size=6, max_size=14))
def test_of_groups_of_days(drawn: list[tuple[int, Arm, float]]) -> None:
    values = {(Unit(event=f"d{day}", group=f"g{number}"), arm): value for number, (day, arm, value) in enumerate(drawn)}
    found = dict(days_without_each(values))
    for unit, effect in found.items():
        assert_alike(effect, effect_in_days({key: value for key, value in values.items() if key[0] != unit}))


@given(st.lists(st.tuples(st.sampled_from(list(Arm)), NUMBERS, NUMBERS), min_size=5, max_size=12))
def test_of_units_in_turn(drawn: list[tuple[Arm, float, float]]) -> None:
    units = [Unit(event="d1", group=f"g{number}") for number in range(len(drawn))]
    first = {unit: arm for unit, (arm, _, _) in zip(units, drawn, strict=True)}
    values: dict[tuple[Unit, Arm], float] = {}
    for unit, (_, trial, ordinary) in zip(units, drawn, strict=True):
        values |= {(unit, Arm.TRIAL): trial, (unit, Arm.ORDINARY): ordinary}
    found = dict(turns_without_each(values, first))
    for unit, effect in found.items():
        assert_alike(effect, effect_in_turn({key: value for key, value in values.items() if key[0] != unit}, first))
