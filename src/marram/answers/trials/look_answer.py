"""A look of a plan, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.answers.shape import Shape

if TYPE_CHECKING:
    from marram.evidence.looks import LookTaken
    from marram.evidence.weighing.told_findings import TrialReport


class LookShape(Shape, frozen=True, kw_only=True):
    """The look of the plan that a report is.

    Attributes:
        look: Which one; null where the trial ended between two of them or after the last.
        looks: How many are planned, the last at the end.
        pairs: Pairs that were played.
        planned_pairs: Pairs that the plan has.
        bound: How many standard errors an effect must lie from nothing.
    """

    look: int | None
    looks: int
    pairs: int
    planned_pairs: int | None
    bound: float


class LookTakenShape(Shape, frozen=True, kw_only=True):
    """How an effect stands at a look of the plan.

    Attributes:
        standard_errors: How far it lies from nothing, |t| brought to the normal law through its p.
        bound: How far it must lie.
        passed: Whether it lies beyond.
        level: Level of the interval that leaves nothing out exactly where the bound is passed, as a part of 1.
        interval: The interval at that level; the 95 % interval besides is not widened for the looks.
        p_all_looks: The chance that an effect of nothing stands out so far at any of the looks.
    """

    standard_errors: float
    bound: float
    passed: bool
    level: float
    interval: tuple[float, float]
    p_all_looks: float


def look_shape(weighed: TrialReport) -> LookShape | None:
    """The look that a report is; None where it is none."""
    look = weighed.look
    if look is None:
        return None
    return LookShape(look=look.number, looks=look.looks, pairs=look.pairs, planned_pairs=weighed.planned_pairs, bound=round(look.bound, 4))


def look_taken_shape(taken: LookTaken | None) -> LookTakenShape | None:
    """How an effect stands at it; None where it is not looked at."""
    if taken is None:
        return None
    return LookTakenShape(
        standard_errors=round(taken.standard_errors, 4),
        bound=round(taken.look.bound, 4),
        passed=taken.is_passed,
        level=round(taken.look.level, 6),
        interval=(round(taken.interval.low, 4), round(taken.interval.high, 4)),
        p_all_looks=round(taken.p_of_all, 6),
    )
