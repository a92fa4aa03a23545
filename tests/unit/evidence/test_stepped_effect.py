"""A stepped roll-out, against sums done by hand and against an ordinary fit with every course and period."""

from __future__ import annotations

from random import Random

import pytest

from marram.core.errors import StudyError
from marram.evidence.fitting.stepped_effect import Cell, stepped_effect, ways_of


def cells_of(table: dict[str, list[float]]) -> list[Cell]:
    return [Cell(unit=unit, period=period, value=value) for unit, row in table.items() for period, value in enumerate(row, start=1)]


def test_two_courses_by_hand() -> None:
    """Course A plays trial rules from period 2, course B from period 3.

    With courses and periods taken out the trial rules weigh A's periods -1/6, 1/3, -1/6 and B's the other way round, so with d = A - B the
    effect is -d1/2 + d2 - d3/2. Here d = 1, 5, 3: -0.5 + 5 - 1.5 = 3. The other way to deal the two steps turns the sign: p is 1.
    """
    found = stepped_effect(cells_of({"A": [11, 16, 15], "B": [10, 11, 12]}), {"A": 2, "B": 3})
    assert found.estimate == pytest.approx(3.0)
    assert (found.ways, found.is_exact, found.p, found.units) == (2, True, 1.0, 2)
    assert not found.interval95.is_bounded
    assert found.trial_mean == pytest.approx((16 + 15 + 12) / 3)
    assert found.ordinary_mean == pytest.approx((11 + 10 + 11) / 3)


def six(effect: float = 0.0, later: float = 0.0, seed: int = 1, spread: float = 1.0) -> tuple[list[Cell], dict[str, int]]:
    """Six courses over four periods, two at each of three steps, with a season that rises by 3 a period."""
    chance = Random(seed)
    switches = {f"course {number}": 2 + number % 3 for number in range(6)}
    cells = [
        Cell(
            unit=unit,
            period=period,
            value=10 * int(unit[-1])
            + 3 * period
            + effect * (period >= switch)
            + later * max(0, period - switch)
            + spread * chance.gauss(0, 1),
        )
        for unit, switch in switches.items()
        for period in range(1, 5)
    ]
    return cells, switches


def test_courses_and_season_fall_out() -> None:
    cells, switches = six(effect=4.0, spread=0.0)
    found = stepped_effect(cells, switches)
    assert found.estimate == pytest.approx(4.0)
    assert found.since_switch == pytest.approx((4.0, 4.0, 4.0))
    assert found.mean_since_switch == pytest.approx(4.0)
    assert found.ways == ways_of([2, 2, 3, 3, 4, 4]) == 90  # 6! / (2! 2! 2!)
    assert found.p == pytest.approx(1 / 90)  # only the way that was drawn shows as much


def test_an_effect_that_grows_after_the_switch_is_told_by_time_since_it() -> None:
    """2 in the first period after the switch, then 5, then 8, played by 6, 4 and 2 courses: (12 + 20 + 16) / 12 = 4 on average.

    A fit that takes it for the same throughout gives 0.5 here: it takes the growth for the season's.
    """
    found = stepped_effect(*six(effect=2.0, later=3.0, spread=0.0))
    assert found.since_switch == pytest.approx((2.0, 5.0, 8.0))
    assert found.mean_since_switch == pytest.approx(4.0)
    assert found.estimate == pytest.approx(0.5)


def test_a_course_that_never_went_over_holds_the_season() -> None:
    found = stepped_effect(cells_of({"A": [11, 16], "B": [10, 11]}), {"A": 2, "B": 3})
    assert found.since_switch == pytest.approx((4.0,))
    with pytest.raises(StudyError):
        stepped_effect(cells_of({"A": [11, 16], "B": [10, 11]}), {"A": 1, "B": 1})


def test_the_estimate_is_that_of_an_ordinary_fit() -> None:
    import statsmodels.formula.api as smf
    from pandas import DataFrame

    cells, switches = six(effect=1.5, seed=5)
    cells = [cell for place, cell in enumerate(cells) if place not in {3, 10}]  # two periods lost
    table = DataFrame(
        {
            "value": [cell.value for cell in cells],
            "unit": [cell.unit for cell in cells],
            "period": [cell.period for cell in cells],
            "trial": [float(cell.period >= switches[cell.unit]) for cell in cells],
        }
    )
    fitted = smf.ols("value ~ trial + C(unit) + C(period)", table).fit()
    assert stepped_effect(cells, switches).estimate == pytest.approx(float(fitted.params["trial"]))


def test_the_limits_are_the_effects_that_the_draw_does_not_rule_out() -> None:
    """Just inside a limit an effect taken off leaves p above 5 %, just outside it does not."""
    cells, switches = six(effect=3.0, seed=8)
    found = stepped_effect(cells, switches)
    for end, outside in ((found.interval95.low, -1), (found.interval95.high, 1)):
        for step, is_kept in ((outside * 1e-6, False), (-outside * 1e-6, True)):
            taken = [
                Cell(unit=cell.unit, period=cell.period, value=cell.value - (end + step) * (cell.period >= switches[cell.unit]))
                for cell in cells
            ]
            assert (stepped_effect(taken, switches).p > 0.05) is is_kept
    assert found.interval95.low < found.interval90.low < found.estimate < found.interval90.high < found.interval95.high


def test_more_ways_than_can_be_gone_through_are_drawn_and_agree() -> None:
    switches = {f"u{number}": 2 + number for number in range(8)}  # 8! = 40,320
    chance = Random(2)
    cells = [
        Cell(unit=unit, period=period, value=chance.gauss(0, 1) + 2.0 * (period >= switch))
        for unit, switch in switches.items()
        for period in range(1, 10)
    ]
    found = stepped_effect(cells, switches)
    again = stepped_effect(cells, switches, seed=2)
    assert (found.ways, found.is_exact) == (40320, False)
    assert found.interval95.low == pytest.approx(again.interval95.low, abs=0.15)
    assert 0 < found.p <= 0.05


def test_a_roll_out_that_tells_nothing_is_refused() -> None:
    table = {"A": [1.0, 2.0], "B": [2.0, 3.0]}
    with pytest.raises(StudyError, match="cannot be told apart"):
        stepped_effect(cells_of(table), {"A": 2, "B": 2})
    with pytest.raises(StudyError, match="has no step"):
        stepped_effect(cells_of(table), {"A": 2})
    with pytest.raises(StudyError, match="stands twice"):
        stepped_effect([*cells_of(table), Cell(unit="A", period=1, value=3.0)], {"A": 1, "B": 2})
