"""Report on a trial: one verdict for each change, from the records of the days."""

from __future__ import annotations

from dataclasses import dataclass

from marram.evidence.weighing.finding_words import account_sentences, answer_sentence, compared_sentence, finding_sentences, guard_sentence
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
from marram.office.trials.designs.known_designs import design_of
from marram.office.trials.plan_trial import ReadPlan, refuse_changed_trial, trial_stamp
from marram.records.rows import TrialRecords
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.values import value_words


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialReported:
    """What the records of a trial say.

    Attributes:
        weighed: The findings.
        plan_stamp: Stamp of the plan; None where none was given.
        trial_stamp: Stamp of the trial.
        departures: Where the days did not go as planned.
    """

    weighed: TrialReport
    plan_stamp: str | None
    trial_stamp: str
    departures: tuple[str, ...]


def report_trial(trial: Overlay, records: TrialRecords, frozen: ReadPlan | None) -> TrialReported:
    """Weigh the records of a trial.

    Args:
        trial: The trial.
        records: What was recorded on its days.
        frozen: The plan as it was frozen; None where there is none.

    Raises:
        StudyError: The trial was changed after it was planned, or its records cannot be weighed.
    """
    if frozen is not None:
        refuse_changed_trial(frozen, trial)
    design = design_of(frozen, records)
    return TrialReported(
        weighed=design.weigh(trial, records, frozen),
        plan_stamp=None if frozen is None else frozen.stamp,
        trial_stamp=trial_stamp(trial),
        departures=() if frozen is None else design.departures(frozen, records),
    )


def report_file(reported: TrialReported, command: str, form: str) -> bytes:
    """The report as a file.

    Args:
        reported: What the records say.
        command: The command that works it out again.
        form: ``.html`` or ``.pdf``.

    Raises:
        DataError: The form is another.
    """
    from marram.sheets.pages.trial_report_sheet import report_page

    stamps = {"plan_stamp": reported.plan_stamp, "trial_stamp": reported.trial_stamp}
    return report_page(reported.weighed, stamps, reported.departures, command, form=form)


def finding_lines(finding: ChangeFinding) -> tuple[str, ...]:
    """What is said of one change: its words, what was measured, its guards and the answers of players, each a sentence."""
    reason = f" ({finding.reason})" if finding.reason else ""
    guards = [f"Must not get worse. {guard_sentence(guard, finding.words)}" for guard in finding.guards]
    answers = [answer_sentence(lot, finding.words) for lot in finding.answers]
    answers += [compared_sentence(compared, finding.words) for compared in finding.answers_compared]
    return (
        f"{change_words(finding.change)}. Verdict: {finding.words.said(finding.verdict)}{reason}.",
        *finding_sentences(finding),
        *guards,
        *answers,
    )


def rows_told(reported: TrialReported) -> tuple[str, ...]:
    """What became of every row, by outcome and kind of day."""
    return account_sentences(reported.weighed)


def change_words(change: Change) -> str:
    """What a change is from and to, in words."""
    return f"{value_words(change.was)} becomes {value_words(change.now)}"
