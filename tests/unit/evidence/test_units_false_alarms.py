"""Seasons of units by chance: praise where nothing changed, and an effect that is there found again, for each design that draws units.

Days differ, units differ, players of a unit differ, the second round takes more strokes, and a twentieth of the cards is lost. The checks
use the Monte Carlo error of the run itself, two of them either way for what each run is made for.
"""

from __future__ import annotations

from functools import partial
from math import sqrt
from random import Random

import pytest

from marram.evidence.design_words import CROSS_OVER, CROSS_OVER_BY_HALF, GROUPS_IN_A_DAY, DesignWords
from marram.evidence.designs.by_units import ByUnits
from marram.evidence.designs.drawn_lots import draw_halves, draw_orders
from marram.evidence.designs.drawn_units import Drawing, Unit
from marram.evidence.designs.unit_rows import query_units
from marram.evidence.findings import weigh_trial
from marram.evidence.verdicts import is_praise
from marram.evidence.weighing.told_findings import TrialReport
from marram.office.trials.planned_trial import DrawnUnit
from marram.records.rows import Arm, Observation, TrialRecords
from tests.support.drawn_seasons import Built, days_of_units, rows_of_units
from tests.support.seasons import expecting, trial_of

TURNS = {Arm.TRIAL: (Arm.TRIAL, Arm.ORDINARY), Arm.ORDINARY: (Arm.ORDINARY, Arm.TRIAL)}
DESIGNS = [CROSS_OVER, CROSS_OVER_BY_HALF, GROUPS_IN_A_DAY]
LATERAL = {"key": '"relief.lateral.size"', "was": "{ club_lengths = 2 }", "now": "{ club_lengths = 4 }"}
ALL = trial_of(expecting("strokes", 1), expecting("drops_per_relief", 0.2) | LATERAL)


def as_drops(value: float) -> float:
    return float(min(max(round(value), 1), 6))


def drawn_for(words: DesignWords, seed: str) -> list[DrawnUnit]:
    if words is CROSS_OVER_BY_HALF:
        orders = [first for both in draw_orders([f"e{number}" for number in range(8)], seed).values() for first in both]
        return [DrawnUnit(unit=f"d{number}", day=f"d{number}", rules=TURNS[first]) for number, first in enumerate(orders)]
    days = [(f"d{day}", draw_halves([f"g{group}" for group in range(8)], f"d{day}", seed)) for day in range(3)]
    return [
        DrawnUnit(unit=f"{day} {group}", day=day, group=group, rules=TURNS[arm] if words is CROSS_OVER else (arm,))
        for day, drawn in days
        for group, arm in drawn.items()
    ]


def play(words: DesignWords, number: int, effect: float) -> TrialReport:
    chance, drawn = Random(f"{words.unit} {words.is_of_days} {words.rests_on} {number}"), drawn_for(words, f"season {number}")
    built = Built(trial=effect, second_round=3.0)
    rows = rows_of_units(drawn, "strokes", built, chance)
    rows += rows_of_units(drawn, "drops_per_relief", Built(level=3.0, sd_day=0.3, sd_group=0.3, sd_row=0.7), chance, of=as_drops)
    kept: tuple[Observation, ...] = tuple(row for row in rows if chance.random() > 0.05)
    drawing = Drawing(design=words.design, rules={Unit(event=unit.day, group=unit.group): unit.rules for unit in drawn})
    records = query_units(TrialRecords(days=days_of_units(drawn), observations=kept), drawing)
    assert not records.left_out
    return weigh_trial(ALL, records, comparing=partial(ByUnits, drawing=drawing, words=words))


def check_size(words: DesignWords, seasons: int) -> None:
    found = [play(words, number, 0.0) for number in range(seasons)]
    praised = sum(any(is_praise(finding.verdict) for finding in report.findings) for report in found)
    assert praised / seasons <= 0.05 + 2 * sqrt(0.05 * 0.95 / seasons)
    ends = [report.findings[0].effect.interval95 for report in found if report.findings[0].effect is not None]
    assert len(ends) == seasons
    outside = sum(not interval.low < 0 < interval.high for interval in ends)
    assert abs(outside / seasons - 0.05) <= 2 * sqrt(0.05 * 0.95 / seasons)


def check_coverage(words: DesignWords, seasons: int) -> None:
    effects = [play(words, number, -4.0).findings[0].effect for number in range(seasons)]
    told = [effect for effect in effects if effect is not None]
    assert len(told) == seasons
    inside = sum(effect.interval95.low <= -4 <= effect.interval95.high for effect in told)
    assert abs(inside / seasons - 0.95) <= 2 * sqrt(0.05 * 0.95 / seasons)
    errors = [effect.estimate + 4 for effect in told]
    mean = sum(errors) / seasons
    assert abs(mean) <= 3 * sqrt(sum((error - mean) ** 2 for error in errors) / seasons) / sqrt(seasons)


@pytest.mark.parametrize("words", DESIGNS, ids=lambda words: words.design.name)
def test_an_effect_that_is_there_lies_in_the_interval(words: DesignWords) -> None:
    check_coverage(words, 60)


@pytest.mark.long
@pytest.mark.parametrize("words", DESIGNS, ids=lambda words: words.design.name)
def test_a_thousand_seasons_without_an_effect_are_hardly_ever_praised(words: DesignWords) -> None:
    check_size(words, 1_000)


@pytest.mark.long
@pytest.mark.parametrize("words", DESIGNS, ids=lambda words: words.design.name)
def test_a_thousand_seasons_with_an_effect(words: DesignWords) -> None:
    check_coverage(words, 1_000)
