"""Lines of sensitivity, as outsiders read them beside a finding."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.answers.place_answer import rounded
from marram.answers.shape import Shape

if TYPE_CHECKING:
    from marram.evidence.sensitivity.sensitivity_line import SensitivityLine


class SensitivityShape(Shape, frozen=True, kw_only=True):
    """What another way of reckoning says of the same values: sensitivity, not the verdict.

    Attributes:
        way: The way: `rows` (a model of the rows), `within players`, `course by course`, `trimmed days`, `without one pair`,
            `missing filled in`, `events by themselves`, `days by rank` or `days as two lots`.
        outcome: The outcome.
        question: The question that was answered; empty for what is no answer.
        scale: `difference` (trial days less ordinary days), `ratio of times`, `ratio of rates` or `ratio of odds`, of which 1 is no
            difference, or `chance of a higher value`, of which half is none.
        estimate: What it says; null where it cannot be worked out.
        interval95: Its 95 % interval, or without one pair the range over all pairs; null where there is none.
        rows: How many values it rests on.
        model: What was reckoned, in words.
        p: One-sided p of events by themselves and of ranks, exact p of yes and no within players, p of lying outside the margin
            for two lots; null elsewhere.
        why_none: Why it cannot be worked out; empty where it can.
    """

    way: str
    outcome: str
    question: str
    scale: str
    estimate: float | None
    interval95: tuple[float, float] | None
    rows: int
    model: str
    p: float | None
    why_none: str


def sensitivity_answer(line: SensitivityLine) -> SensitivityShape:
    """One line of sensitivity."""
    ends = line.interval95
    return SensitivityShape(
        way=line.way.value,
        outcome=line.outcome,
        question=line.question,
        scale=line.scale.value,
        estimate=rounded(line.estimate, 4),
        interval95=None if ends is None else (round(ends.low, 4), round(ends.high, 4)),
        rows=line.rows,
        model=line.model,
        p=rounded(line.p, 4),
        why_none=line.why_none,
    )
