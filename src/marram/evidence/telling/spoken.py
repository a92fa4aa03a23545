"""The report in one to three sentences, as an official would speak them before anything else."""

from __future__ import annotations

from collections.abc import Sequence

from marram.core.words import counted
from marram.evidence.guards import GuardWord
from marram.evidence.verdicts import Overall
from marram.evidence.weighing.finding_words import change_numbers
from marram.evidence.weighing.headlines import size_parts
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport

_MOST_TOLD = 2
"""Effects that one sentence can hold; more changes are named by their numbers alone."""


def spoken_sentences(report: TrialReport) -> tuple[str, ...]:
    """What the trial showed, in one to three sentences: what did what it was meant to, what is mixed, and the rest.

    Args:
        report: What was weighed.
    """
    by_line: dict[Overall, list[ChangeFinding]] = {}
    for finding in report.findings:
        by_line.setdefault(finding.overall_together or finding.overall, []).append(finding)
    if report.is_interim and set(by_line) == {Overall.OPEN}:
        return (_interim(report),)
    if set(by_line) <= {Overall.OPEN}:
        return (_nothing(report),)
    did, mixed = by_line.get(Overall.DID, ()), by_line.get(Overall.MIXED, ())
    rest = [_said(found, line) for line in (Overall.DID_NOT, Overall.OPEN) if (found := by_line.get(line))]
    return tuple(
        _sentence(told)
        for told in (
            f"{_said(did, Overall.DID)}{_effects(did)}" if did else "",
            f"{_said(mixed, Overall.MIXED)}{_but(mixed)}" if mixed else "",
            "; ".join([*rest[:1], *(line[:1].lower() + line[1:] for line in rest[1:])]),
        )
        if told
    )


def _interim(report: TrialReport) -> str:
    played, planned = report.pairs, report.words.count(report.planned_pairs or 0)
    return f"The plan is not at its end: {played} of {planned} {'is' if played == 1 else 'are'} played, and no change has a word yet."


def _nothing(report: TrialReport) -> str:
    """What is said where no change has a word: what is missing, where nothing at all was weighed."""
    if not report.findings:
        return "The trial changes nothing, so there is nothing to say."
    if not report.records.observations:
        days = report.records.days
        written = (
            f"{counted(len(days), 'day')} {'is' if len(days) == 1 else 'are'} written down, and" if days else "no day is written down, and"
        )
        return f"Nothing can be said yet: {written} no value that can be weighed. The tables of days and values fill this page."
    if all(finding.effect is None for finding in report.findings):
        return f"Nothing can be said yet: {report.words.none_whole}."
    return _sentence(_said(report.findings, Overall.OPEN))


def _said(findings: Sequence[ChangeFinding], line: Overall) -> str:
    """Changes by their numbers, with the line over them."""
    word, is_one = findings[0].words.said(line), len(findings) == 1
    if line in {Overall.MIXED, Overall.OPEN}:
        word = f"{'is' if is_one else 'are'} {word}"
    return f"{change_numbers(_numbers(findings))} {word if is_one else word.replace('it was', 'they were')}"


def _numbers(findings: Sequence[ChangeFinding]) -> tuple[int, ...]:
    return tuple(finding.change.number for finding in findings)


def _effects(findings: Sequence[ChangeFinding]) -> str:
    if len(findings) > _MOST_TOLD:
        return ""
    told = dict.fromkeys(map(_effect, findings))
    return f": {'; '.join(told)}" if all(told) else ""


def _effect(finding: ChangeFinding) -> str:
    """The effect as part of a sentence; empty where there is none."""
    if finding.effect is None or finding.outcome is None:
        return ""
    said = "".join(size_parts(finding.outcome, finding.effect.estimate))
    return said[:1].lower() + said[1:]


def _but(findings: Sequence[ChangeFinding]) -> str:
    """What keeps changes from having done what they were meant to: what must not get worse."""
    if len(findings) > 1:
        return ": what must not get worse was harmed, or is not shown to be kept"
    harmed = next((guard for guard in findings[0].guards if guard.word is GuardWord.HARMED), None)
    if harmed is None or harmed.estimate is None:
        return f"{_effects(findings)}, but not all that must not get worse is shown to be kept"
    said = "".join(size_parts(harmed.outcome, harmed.estimate))
    return f"{_effects(findings)}, but {said[:1].lower()}{said[1:]}, more than may pass"


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."
