"""Report on a trial: one verdict for each change, from the records of the days."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from marram.core.errors import StudyError
from marram.evidence.sensitivity.beside import with_sensitivity
from marram.evidence.sensitivity.sensitivity_words import sensitivity_sentences
from marram.evidence.telling.first_page import FirstPage
from marram.evidence.weighing.finding_words import (
    account_sentences,
    answer_sentence,
    compared_sentence,
    finding_sentences,
    guard_sentence,
    rated_sentences,
)
from marram.evidence.weighing.headlines import aim_words, headline, rule_under
from marram.evidence.weighing.response_words import response_sentence, response_warnings
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
from marram.office.trials.designs.known_designs import design_of
from marram.office.trials.first_page_shown import show_first_page
from marram.office.trials.plan_trial import ReadPlan, refuse_changed_trial
from marram.office.trials.planned_trial import trial_stamp
from marram.records.rows import TrialRecords
from marram.rulebook.book import Book
from marram.rulebook.differences.told_change import ToldChange, tell_change
from marram.rulebook.overlays.overlay import Overlay


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialReported:
    """What the records of a trial say.

    Attributes:
        weighed: The findings.
        told: Each change in words, by its number.
        plan_stamp: Stamp of the plan; None where none was given.
        trial_stamp: Stamp of the trial.
        departures: Where the days did not go as planned.
        first: The first page.
    """

    weighed: TrialReport
    told: Mapping[int, ToldChange]
    plan_stamp: str | None
    trial_stamp: str
    departures: tuple[str, ...]
    first: FirstPage


def report_trial(
    trial: Overlay, records: TrialRecords, frozen: ReadPlan | None, base: Book, *, adjust: Sequence[str] = ()
) -> TrialReported:
    """Weigh the records of a trial.

    Args:
        trial: The trial.
        records: What was recorded on its days.
        frozen: The plan as it was frozen; None where there is none.
        base: The edition that the trial changes.
        adjust: What is asked to be adjusted for; the report adjusts for what the plan names, for all of that and for nothing else.

    Raises:
        StudyError: The trial was changed after it was planned, its records cannot be weighed, or the plan does not name what is to be
            adjusted for.
    """
    if frozen is not None:
        refuse_changed_trial(frozen, trial)
    _refuse_unplanned(adjust, () if frozen is None else frozen.adjust)
    design = design_of(frozen, records)
    weighed = design.weigh(trial, records, frozen)
    told = {change.number: tell_change(base, change) for change in trial.changes}
    return TrialReported(
        weighed=weighed,
        told=told,
        plan_stamp=None if frozen is None else frozen.stamp,
        trial_stamp=trial_stamp(trial),
        departures=() if frozen is None else design.departures(frozen, records),
        first=show_first_page(weighed, told, frozen),
    )


def _refuse_unplanned(asked: Sequence[str], planned: Sequence[str]) -> None:
    for name in (" ".join(name.lower().split()) for name in asked):
        if name not in planned:
            named = f"it names {' and '.join(planned)}" if planned else "it names nothing to adjust for"
            message = f"{name} was not fixed in a plan ({named}): with a choice afterwards some adjustment shows whatever one likes."
            raise StudyError(message, where="adjust", hint="Plan with `adjust` before the first day; weigh these days without it.")


def beside_findings(reported: TrialReported) -> TrialReported:
    """The same report with what other ways of reckoning say beside each finding; it changes no word.

    Args:
        reported: What the records say.
    """
    beside = with_sensitivity(reported.weighed)
    if beside is reported.weighed:
        remarks = (*beside.records.remarks, "Other ways of reckoning are worked out for paired days alone.")
        beside = replace(beside, records=replace(beside.records, remarks=remarks))
    return replace(reported, weighed=beside)


def report_file(reported: TrialReported, command: str, form: str) -> bytes:
    """The report as a file.

    Args:
        reported: What the records say.
        command: The command that works it out again.
        form: ``.html`` or ``.pdf``.

    Raises:
        DataError: The form is another.
        StudyError: Nobody played the days: an interval of a forecast is not drawn as one of the field.
    """
    if reported.weighed.words.is_simulated:
        message = "Nobody played these days, and what a forecast expects is not drawn like what a field showed."
        raise StudyError(message, where="simulated", hint="Take the report in words, without `out`, or as JSON.")
    from marram.sheets.pages.trial_report_sheet import report_page

    stamps = {"plan_stamp": reported.plan_stamp, "trial_stamp": reported.trial_stamp}
    return report_page(reported.weighed, reported.first, reported.told, stamps, reported.departures, command, form=form)


def headline_of(reported: TrialReported, finding: ChangeFinding) -> str:
    """The sentence over a change: what was measured where it was in force."""
    return headline(finding, reported.told[finding.change.number])


def finding_lines(reported: TrialReported, finding: ChangeFinding) -> tuple[str, ...]:
    """What is said of one change: its words, what was measured, its guards and the answers of players, each a sentence."""
    reason, aim = f" ({finding.reason})" if finding.reason else "", aim_words(finding)
    guards = [f"Must not get worse. {guard_sentence(guard, finding.words)}" for guard in finding.guards]
    answers = [answer_sentence(lot, finding.words) for lot in finding.answers]
    answers += [compared_sentence(compared, finding.words) for compared in finding.answers_compared]
    responses = [line for one in finding.responses for line in (response_sentence(one), *response_warnings(one))]
    return (
        f"Verdict: {finding.words.said(finding.verdict)}{reason}.",
        *([rule] if (rule := rule_under(headline_of(reported, finding), reported.told[finding.change.number])) else []),
        *([f"Meant for: {aim}."] if aim else []),
        *finding_sentences(finding),
        *guards,
        *answers,
        *responses,
        *sensitivity_sentences(finding),
    )


def rated_told(reported: TrialReported) -> tuple[str, ...]:
    """How players who said of every change how fair it is put them in order; nothing where too few did."""
    return rated_sentences(reported.weighed)


def rows_told(reported: TrialReported) -> tuple[str, ...]:
    """What became of every row, by outcome and kind of day."""
    return account_sentences(reported.weighed)
