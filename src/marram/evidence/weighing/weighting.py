"""Who did not answer: response by kind of player, shares weighted to the field, and what those who kept silent could turn.

Weights put right only what the cells explain. So the share is told unweighted and weighted, and beside both what it would be if everybody
who did not answer had said no, or yes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, inf, sqrt
from statistics import median

from marram.core.errors import StudyError
from marram.evidence.effects import Interval
from marram.evidence.weighing.clustered import wilson_limits

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
        not_theirs: How many others said that the question is not theirs to answer: they did not meet what it is about.
        yes: How many of those who answered said yes, or gave one of the two best steps.
    """

    name: str
    invited: float
    answered: int
    yes: float
    not_theirs: int = 0

    @property
    def heard_from(self) -> int:
        """How many answered, or said that the question is not theirs."""
        return self.answered + self.not_theirs

    @property
    def response(self) -> float:
        """Part of those asked who were heard from."""
        return self.heard_from / self.invited if self.invited else 0.0


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
        if_silent_said_no: The share of all who were asked and for whom the question may be, had all who said nothing said no.
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


def weighted_share(cells: Sequence[Cell], *, independent: float | None = None, freedom: float = inf) -> WeightedShare:
    """The share of yes weighted so that each kind of player counts as it was asked.

    Args:
        cells: The kinds of player.
        independent: How many independent answers there are, where players come again; None where each answer stands for itself.
        freedom: Degrees of freedom that players and days leave; without end where each answer stands for itself.

    Raises:
        StudyError: Nobody answered, or more answered than were asked.

    Source: Kish, Survey Sampling (1965), for stratified shares and their variance: the sum of W^2 (1 - f) p (1 - p) / (n - 1); Korn and
    Graubard, Confidence intervals for proportions with small expected number of positive counts (1998), for limits by the number of
    independent answers that this variance stands for.
    """
    for cell in cells:
        if not 0 <= cell.yes <= cell.answered <= cell.heard_from <= cell.invited:
            raise StudyError(
                f"{cell.heard_from} answers of {cell.invited:g} asked, {cell.yes:g} of them yes, cannot be.", where=cell.name or "cell"
            )
    joined = _joined([cell for cell in cells if cell.invited])
    answered = sum(cell.answered for cell in joined)
    if not answered:
        raise StudyError("Nobody answered.", hint="A share needs at least one answer.")
    silent = fsum(cell.invited - cell.heard_from for cell in joined)
    weights = _trimmed([cell.invited / cell.heard_from for cell in joined], [cell.answered for cell in joined])
    total = fsum(weight * cell.answered for weight, cell in zip(weights, joined, strict=True))
    parts = [weight * cell.answered / total for weight, cell in zip(weights, joined, strict=True)]
    estimate = fsum(part * cell.yes / cell.answered for part, cell in zip(parts, joined, strict=True))
    error = sqrt(fsum(_variance(part, cell) for part, cell in zip(parts, joined, strict=True)))
    error *= sqrt(answered / independent) if independent else 1.0
    squares = fsum(weight**2 * cell.answered for weight, cell in zip(weights, joined, strict=True))
    effective, yes = total**2 / squares, fsum(cell.yes for cell in joined)
    worth = effective * (independent or answered) / answered
    return WeightedShare(
        estimate=estimate,
        standard_error=error,
        interval95=_limits(estimate, error, worth * _silence(joined), freedom),
        unweighted=yes / answered,
        effective=effective,
        cells=tuple(joined),
        if_silent_said_no=yes / (answered + silent),
        if_silent_said_yes=(yes + silent) / (answered + silent),
    )


def _silence(cells: Sequence[Cell]) -> float:
    """How many times as much an answer is worth because so many of all who were asked were heard from; without end where all were."""
    asked, heard_from = fsum(cell.invited for cell in cells), sum(cell.heard_from for cell in cells)
    return asked / (asked - heard_from) if heard_from < asked else inf


def _limits(share: float, error: float, worth: float, freedom: float) -> Interval:
    """The 95 % limits; where all answer alike no spread is seen, and then the number of answers is counted on alone."""
    independent = share * (1 - share) / error**2 if error > 0 else worth
    return Interval(low=share, high=share) if independent == inf else wilson_limits(share, independent, freedom, 0.95)


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
        not_theirs=sum(cell.not_theirs for cell in few),
    )
    return [*kept, together]


def _trimmed(weights: Sequence[float], counts: Sequence[int]) -> list[float]:
    """The weights, none more than so many times the middle one of all answers."""
    middle = median([weight for weight, count in zip(weights, counts, strict=True) for _ in range(count)])
    return [min(weight, _TRIMMED_AT * middle) for weight in weights]
