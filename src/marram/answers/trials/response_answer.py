"""Who was asked and who answered, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.answers.shape import Shape
from marram.evidence.weighing.response_words import response_warnings

if TYPE_CHECKING:
    from marram.evidence.weighing.response import KindResponse, QuestionResponse
    from marram.evidence.weighing.weighting import WeightedShare


class KindResponseShape(Shape, frozen=True, kw_only=True):
    """How many players of one kind answered a question.

    Attributes:
        kind: The kind, or the day where kinds are not told apart.
        asked: How many were asked.
        did_not_meet: How many of these say that they did not meet the change; their answers stand apart.
        answered: How many of the others answered.
        share: Share of these who say yes, or give one of the two best steps; null where nobody answered.
    """

    kind: str
    asked: int
    did_not_meet: int
    answered: int
    share: float | None


class WeightedShareShape(Shape, frozen=True, kw_only=True):
    """A share of answers weighted to who was asked, with the worst cases.

    Attributes:
        unweighted: The share of those who answered.
        weighted: The share weighted so that each kind of player counts as it was asked.
        standard_error: Standard error of the weighted share.
        interval95: Its 95 % interval, of all who were asked.
        effective_answers: How many answers of equal weight it is worth.
        weighed_kinds: The kinds as they were weighed: those with few answers are taken together.
        if_silent_said_worst: The share, had all who said nothing met it and said no, or none of the two best steps.
        if_silent_said_best: The share, had they said yes, or one of the two best steps.
    """

    unweighted: float
    weighted: float
    standard_error: float
    interval95: tuple[float, float]
    effective_answers: float
    weighed_kinds: tuple[str, ...]
    if_silent_said_worst: float
    if_silent_said_best: float


class ResponseShape(Shape, frozen=True, kw_only=True):
    """Who answered one question.

    Attributes:
        outcome: The outcome that the answers belong to.
        question: The question as the trial asks it; empty where the outcome itself is what is asked.
        rules: Under which rules the day was played.
        asked: How many were asked.
        answered: How many answered, of those who did not say that they have not met the change.
        cells: The same by kind of player.
        share: The share of yes, or of the two best steps; null where nobody answered.
        warnings: Kinds of player of whom none, too few or fewer than half were heard from.
    """

    outcome: str
    question: str
    rules: str
    asked: int
    answered: int
    cells: tuple[KindResponseShape, ...]
    share: WeightedShareShape | None
    warnings: tuple[str, ...]


def response_shape(response: QuestionResponse) -> ResponseShape:
    """Who answered one question, as it is told."""
    return ResponseShape(
        outcome=response.outcome.key,
        question=response.question,
        rules=response.arm.value,
        asked=sum(one.asked for one in response.kinds),
        answered=sum(one.answered for one in response.kinds),
        cells=tuple(map(_kind, response.kinds)),
        share=None if response.share is None else _share(response.share),
        warnings=response_warnings(response),
    )


def _kind(one: KindResponse) -> KindResponseShape:
    return KindResponseShape(
        kind=one.kind,
        asked=one.asked,
        did_not_meet=one.did_not_meet,
        answered=one.answered,
        share=round(one.yes / one.answered, 4) if one.answered else None,
    )


def _share(share: WeightedShare) -> WeightedShareShape:
    return WeightedShareShape(
        unweighted=round(share.unweighted, 4),
        weighted=round(share.estimate, 4),
        standard_error=round(share.standard_error, 4),
        interval95=(round(share.interval95.low, 4), round(share.interval95.high, 4)),
        effective_answers=round(share.effective, 1),
        weighed_kinds=tuple(cell.name for cell in share.cells),
        if_silent_said_worst=round(share.if_silent_said_no, 4),
        if_silent_said_best=round(share.if_silent_said_yes, 4),
    )
