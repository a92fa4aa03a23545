"""Who did not answer: response by kind of player, shares weighted to the field, and what those who kept silent could turn.

Weights put right only what the cells explain. So the share is told unweighted and weighted, and beside both what it would be if everybody
who did not answer had said no, or yes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt
from statistics import median

from marram.core.errors import StudyError
from marram.evidence.effects import Interval

FEWEST_IN_A_CELL = 5
"""Cells with fewer answers are taken together (common practice)."""
_TRIMMED_AT = 5.0
"""No answer weighs more than so many times the middle weight (common practice)."""
OTHERS = "all others"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """Players of one kind.

    Attributes:
        name: What they have in common, such as a handicap band.
        invited: How many were asked.
        answered: How many answered.
        yes: How many of these said yes, or gave one of the two best steps.
    """

    name: str
    invited: float
    answered: int
    yes: float

    @property
    def response(self) -> float:
        """Part of those asked who answered."""
        return self.answered / self.invited if self.invited else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightedShare:
    """A share weighted to the field.

    Attributes:
        estimate: The weighted share.
        standard_error: Its standard error.
        interval95: Its 95 % interval.
        unweighted: The share of those who answered.
        effective: How many answers of equal weight it is worth (Kish).
        cells: The cells as they were weighted, those with few answers taken together.
        if_silent_said_no: The share of all who were asked, had all who did not answer said no.
        if_silent_said_yes: The same, had they said yes.
    """

    estimate: float
    standard_error: float
    interval95: Interval
    unweighted: float
    effective: float
    cells: tuple[Cell, ...]
    if_silent_said_no: float
    if_silent_said_yes: float


def weighted_share(cells: Sequence[Cell], *, independent: float | None = None) -> WeightedShare:
    """The share of yes weighted so that each kind of player counts as it was asked.

    Args:
        cells: The kinds of player.
        independent: How many independent answers there are, where players come again; None where each answer stands for itself.

    Raises:
        StudyError: Nobody answered, or more answered than were asked.

    Source: Kish, Survey Sampling (1965), for stratified shares and their variance: the sum of W^2 (1 - f) p (1 - p) / (n - 1).
    """
    for cell in cells:
        if not 0 <= cell.yes <= cell.answered <= cell.invited:
            raise StudyError(
                f"{cell.answered} answers of {cell.invited:g} asked, {cell.yes:g} of them yes, cannot be.", where=cell.name or "cell"
            )
    joined = _joined([cell for cell in cells if cell.invited])
    answered = sum(cell.answered for cell in joined)
    if not answered:
        raise StudyError("Nobody answered.", hint="A share needs at least one answer.")
    asked = fsum(cell.invited for cell in joined)
    weights = _trimmed([cell.invited / cell.answered for cell in joined], [cell.answered for cell in joined])
    total = fsum(weight * cell.answered for weight, cell in zip(weights, joined, strict=True))
    parts = [weight * cell.answered / total for weight, cell in zip(weights, joined, strict=True)]
    estimate = fsum(part * cell.yes / cell.answered for part, cell in zip(parts, joined, strict=True))
    error = sqrt(fsum(_variance(part, cell) for part, cell in zip(parts, joined, strict=True)))
    error *= sqrt(answered / independent) if independent else 1.0
    squares = fsum(weight**2 * cell.answered for weight, cell in zip(weights, joined, strict=True))
    yes = fsum(cell.yes for cell in joined)
    return WeightedShare(
        estimate=estimate,
        standard_error=error,
        interval95=Interval(low=max(0.0, estimate - 1.96 * error), high=min(1.0, estimate + 1.96 * error)),
        unweighted=yes / answered,
        effective=total**2 / squares,
        cells=tuple(joined),
        if_silent_said_no=yes / asked,
        if_silent_said_yes=(yes + asked - answered) / asked,
    )


def _variance(part: float, cell: Cell) -> float:
    if cell.answered < 2:
        return 0.0
    share = cell.yes / cell.answered
    return part**2 * (1 - cell.response) * share * (1 - share) / (cell.answered - 1)


def _joined(cells: Sequence[Cell]) -> list[Cell]:
    """The cells, those with too few answers taken together, with the smallest other one where they are still too few."""
    ordered = sorted(cells, key=lambda cell: cell.answered)
    few = [cell for cell in ordered if cell.answered < FEWEST_IN_A_CELL]
    rest = [cell for cell in ordered if cell.answered >= FEWEST_IN_A_CELL]
    while few and rest and sum(cell.answered for cell in few) < FEWEST_IN_A_CELL:
        few.append(rest.pop(0))
    kept = [cell for cell in cells if cell in rest]
    if not few:
        return kept
    together = Cell(
        name=OTHERS if len(few) > 1 else few[0].name,
        invited=fsum(cell.invited for cell in few),
        answered=sum(cell.answered for cell in few),
        yes=fsum(cell.yes for cell in few),
    )
    return [*kept, together]


def _trimmed(weights: Sequence[float], counts: Sequence[int]) -> list[float]:
    """The weights, none more than so many times the middle one of all answers."""
    middle = median([weight for weight, count in zip(weights, counts, strict=True) for _ in range(count)])
    return [min(weight, _TRIMMED_AT * middle) for weight in weights]
