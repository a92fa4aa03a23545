"""Guards: what a change must not make worse, and whether the days show that it did not.

"Not significant" never shows that nothing was harmed: a guard is kept only where the interval leaves no room for harm that matters.

Source: Schuirmann, A comparison of the two one-sided tests procedure and the power approach (1987): equivalence at 5 % is a 90 % interval
inside the margins.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from marram.core.errors import StudyError
from marram.evidence.effects import Interval


class GuardWord(StrEnum):
    """What is said of a guard."""

    KEPT = "kept"
    HARMED = "harmed"
    OPEN = "not shown that it is kept"


def guard_of(interval90: Interval, margin: float) -> GuardWord:
    """What is said of something that may get better but must not get worse (non-inferiority).

    Args:
        interval90: The two-sided 90 % interval of the effect, counted so that more is better.
        margin: How much worse is still let pass, in the unit of the effect; for a ratio, the logarithm of the ratio let pass, with the
            interval of the logarithms.

    Raises:
        StudyError: The margin is not above zero.
    """
    _check(margin)
    if interval90.low > -margin:
        return GuardWord.KEPT
    return GuardWord.HARMED if interval90.high < -margin else GuardWord.OPEN


def guard_either_way(interval90: Interval, margin: float) -> GuardWord:
    """What is said of something that must not change by more than a margin, either way (equivalence).

    Args:
        interval90: The two-sided 90 % interval of the effect.
        margin: How much it may change either way, in the unit of the effect.

    Raises:
        StudyError: The margin is not above zero.
    """
    _check(margin)
    if -margin < interval90.low and interval90.high < margin:
        return GuardWord.KEPT
    return GuardWord.HARMED if interval90.high < -margin or interval90.low > margin else GuardWord.OPEN


def equivalence_of_groups_p(first: Sequence[float], second: Sequence[float], margin: float) -> float:
    """The p value of the two one-sided tests that the means of two different lots of groups or players lie within a margin.

    Args:
        first: Values of one lot, drawn singly.
        second: Values of the other; its spread may differ.
        margin: By how much the means may differ either way.

    Raises:
        StudyError: The margin is not above zero, or a lot holds fewer than two.
    """
    from statsmodels.stats.weightstats import ttost_ind

    _check(margin)
    if min(len(first), len(second)) < 2:
        raise StudyError("A lot of one or none cannot be tested against a margin.", hint="Give at least two values in each.")
    return float(ttost_ind(list(first), list(second), -margin, margin, usevar="unequal")[0])


def _check(margin: float) -> None:
    if not margin > 0:
        raise StudyError(f"A margin of {margin} leaves nothing to be guarded.", hint="Give a number above zero.")
