"""Who was asked and who answered, as the rows of one small table of the report."""

from __future__ import annotations

from dataclasses import dataclass

from marram.evidence.weighing.response import QuestionResponse
from marram.evidence.weighing.response_words import asked_words, kinds_words, response_warnings, what_is_shared
from marram.evidence.weighing.told_findings import TrialReport


@dataclass(frozen=True, slots=True, kw_only=True)
class ResponseRow:
    """Who answered one question, as a row of the report's table."""

    change: int
    question: str
    shared: str
    kinds: tuple[str, ...]
    answered: str
    unweighted: str
    weighted: str
    limits: str
    worst: str
    best: str


def warnings_told_once(report: TrialReport) -> tuple[str, ...]:
    """What is odd about who answered, told once for all changes of which it holds."""
    changes: dict[str, list[int]] = {}
    for finding in report.findings:
        for line in dict.fromkeys(line for one in finding.responses for line in response_warnings(one)):
            changes.setdefault(line, []).append(finding.change.number)
    return tuple(f"Change {', '.join(map(str, numbers))}. {line}" for line, numbers in changes.items())


def response_rows(report: TrialReport) -> tuple[ResponseRow, ...]:
    """The table of who answered: a row for each question that was asked."""
    return tuple(_response(finding.change.number, one) for finding in report.findings for one in finding.responses)


def _response(change: int, response: QuestionResponse) -> ResponseRow:
    share, answered = response.share, sum(one.answered for one in response.kinds)
    not_met = sum(one.did_not_meet for one in response.kinds)

    parts = () if share is None else (share.unweighted, share.estimate, share.if_silent_said_no, share.if_silent_said_yes)
    unweighted, weighted, worst, best = (f"{part:.0%}" for part in parts) if parts else ("",) * 4
    return ResponseRow(
        change=change,
        question=asked_words(response),
        shared=what_is_shared(response),
        kinds=kinds_words(response),
        answered=f"{answered} of {sum(one.asked for one in response.kinds)}" + (f", {not_met} did not meet it" if not_met else ""),
        unweighted=unweighted,
        weighted=weighted,
        limits="" if share is None else f"{share.interval95.low:.0%} to {share.interval95.high:.0%}",
        worst=worst,
        best=best,
    )
