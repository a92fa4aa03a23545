"""How fair players find each change, as a bar of five parts with the share of those who call it fairer."""

from __future__ import annotations

from dataclasses import dataclass

from marram.evidence.effects import Interval
from marram.evidence.weighing.response import QuestionResponse
from marram.evidence.weighing.told_findings import ChangeFinding, TrialReport
from marram.records.rows import Arm

_FAIR = "fair"
STEPS_OF_FAIRNESS = ("much less fair", "less fair", "no different", "fairer", "much fairer")


@dataclass(frozen=True, slots=True, kw_only=True)
class AnswerBar:
    """The answers about one change.

    Attributes:
        change: Its number.
        counts: How many gave each answer, from *much less fair* to *much fairer*.
        share: Share who call it fairer, weighted to who was asked where that is known; None where nobody answered.
        interval95: Its 95 % interval; None where nothing bounds it.
        worst_cases: The share if all who said nothing had said the worst, and the best; None where nobody wrote down who was asked.
        asked: How many were asked; None where nobody wrote that down.
        answered: How many answered.
    """

    change: int
    counts: tuple[int, ...]
    share: float | None
    interval95: tuple[float, float] | None
    worst_cases: tuple[float, float] | None
    asked: int | None
    answered: int

    @property
    def words(self) -> str:
        """The share with its interval and its worst cases, as a sentence."""
        if self.share is None:
            return "Nobody answered."
        limits = "" if self.interval95 is None else f" ({_in_100(self.interval95)})"
        silent = "" if self.worst_cases is None else f"; {_in_100(self.worst_cases)}, whatever the silent think"
        return f"{self.share * 100:.0f} in 100 call it fairer{limits}{silent}."

    @property
    def drawn_words(self) -> str:
        """The bar in words, for those who cannot see it."""
        counts = zip(reversed(STEPS_OF_FAIRNESS), reversed(self.counts), strict=True)
        return f"Change {self.change}: {', '.join(f'{count} {step}' for step, count in counts)}."


def answer_bars(report: TrialReport) -> tuple[AnswerBar, ...]:
    """A bar for each change of which players were asked how fair it is."""
    bars = (_bar(finding) for finding in report.findings)
    return tuple(bar for bar in bars if bar is not None)


def _bar(finding: ChangeFinding) -> AnswerBar | None:
    fair, response = finding.fair, _response(finding)
    if fair is None and response is None:
        return None
    weighted = None if response is None else response.share
    share, interval = (None, None) if fair is None else (fair.top_two.estimate, fair.top_two.interval95)
    if weighted is not None:
        share, interval = weighted.estimate, weighted.interval95
    return AnswerBar(
        change=finding.change.number,
        counts=(0,) * len(STEPS_OF_FAIRNESS) if fair is None else fair.counts,
        share=share,
        interval95=_ends(interval),
        worst_cases=None if weighted is None else (weighted.if_silent_said_no, weighted.if_silent_said_yes),
        asked=None if response is None else sum(kind.asked for kind in response.kinds),
        answered=(0 if fair is None else fair.top_two.of) if response is None else sum(kind.answered for kind in response.kinds),
    )


def _response(finding: ChangeFinding) -> QuestionResponse | None:
    """Who of those asked on trial days answered how fair it is; None where nobody wrote down who was asked."""
    return next((one for one in finding.responses if one.outcome.key == _FAIR and one.arm is Arm.TRIAL), None)


def _ends(interval: Interval | None) -> tuple[float, float] | None:
    return None if interval is None or not interval.is_bounded else (interval.low, interval.high)


def _in_100(ends: tuple[float, float]) -> str:
    return f"{ends[0] * 100:.0f} to {ends[1] * 100:.0f}"
