"""A thousand seasons of days with some of the changes, and of a roll-out: false praise, what limits cover, what the plan promised."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from math import sqrt
from random import Random

import pytest

from marram.evidence.designs.by_changes import ByChanges
from marram.evidence.designs.by_steps import BySteps
from marram.evidence.designs.said_besides import after_days_of_changes, after_steps
from marram.evidence.findings import weigh_trial
from marram.evidence.planning.days_of_changes import draw_days, give_letters
from marram.evidence.planning.fractions_of_days import usual_fraction
from marram.evidence.planning.steps_of_courses import draw_steps
from marram.evidence.verdicts import Overall, is_praise
from marram.evidence.weighing.told_findings import TrialReport
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.known_designs import plan_by_design
from marram.office.trials.designs.trial_design import AskedPlan
from marram.office.trials.planned_trial import Spread
from marram.records.rows import Arm, Observation, TrialDay, TrialRecords
from tests.support.seasons import expecting, trial_of

SEASONS = 1000
ERROR = sqrt(0.05 * 0.95 / SEASONS)
MATTERS, SD = 10.0, 5.0
"""What matters, and the standard deviation of the difference of two days of one course."""
FIRST, COURSES = date(2026, 4, 4), [f"course {letter}" for letter in "ABCDEF"]


def recorded(days: list[TrialDay], levels: dict[str, float]) -> TrialRecords:
    rows = [Observation(day=day, outcome="relief_s", value=level, group="g1") for day, level in levels.items()]
    return TrialRecords(days=tuple(days), observations=tuple(rows))


def of_changes(effect: float, season: int) -> TrialReport:
    """Three changes on eight days, played twice; the first has the effect, and what days differ by is theirs alone."""
    chance, plan = Random(season), usual_fraction(3, 8)
    drawn = draw_days(plan, give_letters([1, 2, 3], plan), times=2, seed=f"seed {season}")
    of_block = {day.block: chance.gauss(0, 8) for day in drawn}
    days, levels = [], {}
    for place, day in enumerate(drawn):
        arm = Arm.TRIAL if day.on else Arm.ORDINARY
        days.append(TrialDay(day=day.day, dated=FIRST + timedelta(days=place), pair="", arm=arm, course="Moor", changes=day.on))
        levels[day.day] = 200 + of_block[day.block] + chance.gauss(0, SD / sqrt(2)) - effect * (1 in day.on)
    blocks = {day.day: day.block for day in drawn}
    trial = trial_of(*[expecting("relief_s", MATTERS)] * 3)
    return weigh_trial(
        trial, recorded(days, levels), comparing=lambda kept: ByChanges(kept, blocks), finish=[after_days_of_changes({}, frozenset())]
    )


def of_steps(effect: float, season: int) -> TrialReport:
    """Six courses that differ, three steps, two days in each period, and a season that does as it likes."""
    chance = Random(season)
    drawn = draw_steps(COURSES, 3, f"seed {season}")
    of_period = [chance.gauss(0, 8) for _ in range(4)]
    days, levels = [], {}
    for place, each in enumerate(drawn):
        own = chance.gauss(0, 12)
        for period in range(1, 5):
            for number in range(2):
                on, name = period >= each.first_trial_period, f"{place}{period}{number}"
                dated = FIRST + timedelta(weeks=4 * period + number)
                arm = Arm.TRIAL if on else Arm.ORDINARY
                days.append(TrialDay(day=name, dated=dated, pair="", arm=arm, course=each.course, period=str(period)))
                levels[name] = 200 + own + of_period[period - 1] + chance.gauss(0, SD / sqrt(2)) - effect * on
    return weigh_trial(trial_of(expecting("relief_s", MATTERS)), recorded(days, levels), comparing=BySteps, finish=[after_steps])


Season = Callable[[float, int], TrialReport]
KINDS = pytest.mark.parametrize("season", [of_changes, of_steps])


def reports(season: Season, effect: float) -> Iterator[TrialReport]:
    return (season(effect, number) for number in range(SEASONS))


@pytest.mark.long
@KINDS
def test_nothing_is_praised_where_nothing_changed_and_limits_cover(season: Season) -> None:
    praised = covered = 0
    for report in reports(season, 0.0):
        praised += any(is_praise(finding.verdict) for finding in report.findings)
        effect = report.findings[0].effect
        assert effect is not None
        covered += effect.interval95.low <= 0 <= effect.interval95.high
    assert praised / SEASONS <= 0.05 + 2 * ERROR
    assert 0.93 <= covered / SEASONS <= 0.97 + ERROR


@pytest.mark.long
@KINDS
@pytest.mark.parametrize("times", [1.0, 1.5])
def test_seasons_end_as_the_plan_said(season: Season, times: float) -> None:
    """Each chance within five points, and what the drawing of a thousand seasons leaves open."""
    steps = AskedPlan(seed="a seed", courses=tuple(COURSES), steps=3, days=2)
    asked, name = (AskedPlan(seed="a seed"), DesignName.CHANGES_OVER_DAYS) if season is of_changes else (steps, DesignName.STEPPED)
    trial = trial_of(*[expecting("relief_s", MATTERS)] * (3 if season is of_changes else 1))
    planned = plan_by_design(trial, Spread(sd={"relief_s": SD}, met={}, players=60), asked, name)
    outlook = next(entry for entry in planned.changes[0].outlook if entry.supposed == times * MATTERS)  # type: ignore[union-attr]
    found = [report.findings[0].overall for report in reports(season, times * MATTERS)]
    assert found.count(Overall.DID) / SEASONS == pytest.approx(outlook.did, abs=0.05 + 2 * outlook.monte_carlo_error)
