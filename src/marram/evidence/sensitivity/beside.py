"""Puts lines of sensitivity beside the findings of a trial of paired days; no word of a finding changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from marram.evidence.plan import Design
from marram.evidence.sensitivity.by_days import Days, events_line, filled_line, ranks_line, trimmed_line, two_lots_line, without_one_line
from marram.evidence.sensitivity.by_rows import Row, course_line, player_line, row_line
from marram.evidence.sensitivity.sensitivity_line import SensitivityLine
from marram.evidence.verdicts import FEWEST_PAIRS
from marram.evidence.weighing.answers_given import answers_about
from marram.evidence.weighing.by_pairs import ByPairs, ComparedPairs
from marram.evidence.weighing.one_change import OneChange
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
from marram.records.outcomes import Outcome, Worse
from marram.records.rows import Arm, Observation, TrialRecords


def with_sensitivity(report: TrialReport) -> TrialReport:
    """The same report with lines of sensitivity beside each finding; one that is no trial of paired days is given back as it is.

    Args:
        report: The report.
    """
    if report.words.design is not Design.PAIRED_DAYS:
        return report
    comparing = ByPairs(report.records)
    return replace(report, findings=tuple(_beside(finding, report, comparing) for finding in report.findings))


def _beside(finding: ChangeFinding, report: TrialReport, comparing: ByPairs) -> ChangeFinding:
    weighed = OneChange(finding.change, report.trial, report.records, comparing)
    of_outcome = () if weighed.outcome is None else _of_outcome(weighed.outcome, weighed.values, comparing)
    of_guards = (line for guard in finding.guards for line in _of_guard(guard.outcome, finding, comparing))
    return replace(finding, sensitivity=(*of_outcome, *of_guards, *_of_answers(finding, report.records)))


def _of_outcome(outcome: Outcome, values: Sequence[Observation], comparing: ByPairs) -> Iterator[SensitivityLine]:
    compared = comparing.compare(outcome, values)
    if compared.fewest < FEWEST_PAIRS:
        return
    days = _days(compared)
    lines = (
        None if outcome.is_answer else row_line(outcome, _rows(compared)),  # answers are told with their question, below
        course_line(outcome, _rows(compared)),
        events_line(outcome, days),
        trimmed_line(outcome, days),
        ranks_line(outcome, days),
        without_one_line(outcome, days),
        filled_line(outcome, days, compared.missing),
    )
    yield from (line for line in lines if line is not None)


def _of_guard(outcome: Outcome, finding: ChangeFinding, comparing: ByPairs) -> Iterator[SensitivityLine]:
    """Of a guard that must not move either way, the days as two lots; of one that is counted seldom, each event by itself."""
    guard = next(guard for guard in finding.guards if guard.outcome is outcome)
    is_rare = guard.ratio is not None and guard.ratio.is_rare
    if not is_rare and guard.worse is not Worse.EITHER:
        return
    own = [entry for entry in comparing.records.observations if entry.outcome == outcome.key]
    values = own if outcome.is_of_the_day else [entry for entry in own if entry.change in {None, finding.change.number}]
    days = _days(comparing.compare(outcome, values))
    lots = two_lots_line(outcome, days, guard.margin) if guard.worse is Worse.EITHER else None
    yield from (line for line in (lots, events_line(outcome, days) if is_rare else None) if line is not None)


def _of_answers(finding: ChangeFinding, records: TrialRecords) -> Iterator[SensitivityLine]:
    """Of each question whose answers are compared, the odds of a higher one."""
    days = {day.day: (pair, day.arm is Arm.TRIAL) for pair, *both in records.pairs() for day in both}
    for compared in finding.answers_compared:
        rows = [
            Row(value=entry.value, is_trial=days[entry.day][1], day=entry.day, pair=days[entry.day][0], player=entry.player)
            for entry, question in answers_about(finding.change, records)
            if entry.outcome == compared.outcome.key and question == compared.question and entry.day in days
        ]
        lines = (row_line(compared.outcome, rows, compared.question), player_line(compared.outcome, rows, compared.question))
        yield from (line for line in lines if line is not None)


def _days(compared: ComparedPairs) -> Days:
    by_day: dict[str, list[float]] = {}
    for entry in compared.values:
        by_day.setdefault(entry.day, []).append(entry.value)
    return [(pair, (trial.day, by_day[trial.day]), (other.day, by_day[other.day])) for pair, trial, other in compared.pairs]


def _rows(compared: ComparedPairs) -> list[Row]:
    sides = {day.day: (pair, day) for pair, *both in compared.pairs for day in both}
    return [
        Row(
            value=entry.value,
            is_trial=sides[entry.day][1].arm is Arm.TRIAL,
            day=entry.day,
            pair=sides[entry.day][0],
            player=entry.player,
            course=sides[entry.day][1].course,
        )
        for entry in compared.values
        if entry.day in sides
    ]
