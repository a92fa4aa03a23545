"""The first page of a report, from what was weighed and the plan as it was frozen."""

from __future__ import annotations

from collections.abc import Mapping

from marram.evidence.designs.drawn_units import Drawing, Unit
from marram.evidence.plan import Design
from marram.evidence.telling.first_page import FirstPage, first_page
from marram.evidence.telling.resting import days_weighed
from marram.evidence.telling.season import Season, still_to_come
from marram.evidence.telling.season_of_days import season_of_changes, season_of_pairs, season_of_steps
from marram.evidence.telling.season_of_units import season_of_units
from marram.evidence.weighing.told_findings import TrialReport
from marram.office.trials.plan_trial import ReadPlan
from marram.rulebook.differences.told_change import ToldChange


def show_first_page(report: TrialReport, told: Mapping[int, ToldChange], frozen: ReadPlan | None) -> FirstPage:
    """The first page of a report.

    Args:
        report: What was weighed.
        told: Each change in words, by its number.
        frozen: The plan as it was frozen; None where there is none.
    """
    season = season_of(report, frozen)
    return first_page(
        report,
        told,
        still_to_come(season) if report.is_interim else season,
        plan_stamp=None if frozen is None else frozen.stamp,
        looks=None if frozen is None else frozen.looks,
    )


def season_of(report: TrialReport, frozen: ReadPlan | None) -> Season:
    """The season as its design draws it.

    Args:
        report: What was weighed.
        frozen: The plan as it was frozen; None where there is none.
    """
    records, weighed, design = report.records, days_weighed(report), report.words.design
    drawn = () if frozen is None else frozen.drawn
    if design is Design.PAIRED_DAYS:
        return season_of_pairs(records, weighed, () if frozen is None else frozen.pairs)
    if design is Design.CHANGES_OVER_DAYS:
        blocks = {unit.day: unit.period for unit in drawn} if frozen is not None else {day.day: day.period for day in records.days}
        return season_of_changes(records, weighed, [unit.day for unit in drawn], [change.number for change in report.trial.changes], blocks)
    if design is Design.STEPPED:
        return season_of_steps(records, weighed, {unit.unit: unit.rules for unit in drawn})
    rules = {Unit(event=each.day, group=each.group, period=each.period): each.rules for each in drawn}
    return season_of_units(records, weighed, Drawing(design=design, rules=rules), report.words.unit)
