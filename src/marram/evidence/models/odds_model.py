"""Answers in steps row by row: one ratio of odds at every cut, with limits that allow for players and days that come again.

Source: McCullagh, Regression models for ordinal data (1980), for the model; Cameron, Gelbach and Miller, Robust inference with multiway
clustering (2011), for the errors.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import StudyError
from marram.evidence.models.fitted import Coefficient, Terms, columns, named, refuse_endless

if TYPE_CHECKING:
    from numpy import float64, int64
    from numpy.typing import NDArray

_MOST_TURNS, _HALVINGS = 100, 40
_FLAT = 1e-8
_STEP = 1e-5
_APART = "One kind of row may hold only the lowest or only the highest answers."


@dataclass(frozen=True, slots=True, kw_only=True)
class OddsFit:
    """A model of answers in steps.

    Attributes:
        terms: Logarithm of the ratio of odds by term; above zero means higher answers.
        cuts: Where one step passes into the next, on the scale of the logarithm of odds.
        log_likelihood: Logarithm of the likelihood.
    """

    terms: tuple[Coefficient, ...]
    cuts: tuple[Coefficient, ...]
    log_likelihood: float

    @property
    def deviance(self) -> float:
        """Twice the logarithm of the likelihood, with its sign turned."""
        return -2 * self.log_likelihood


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """Answers made ready for a model: steps counted from 0 without gaps, the terms as columns, and how often each row counts."""

    step: NDArray[int64]
    x: NDArray[float64]
    weight: NDArray[float64]

    @property
    def cuts(self) -> int:
        """How many cuts there are between the steps."""
        return int(self.step.max())


def ready(answers: Sequence[float], terms: Terms, weights: Sequence[float] | None) -> Answers:
    """Answers made ready for a model; steps that nobody gave do not count, and rows that count for nothing are left out.

    Raises:
        StudyError: All answer alike, or terms and answers differ in number.
    """
    import numpy as np

    weight = np.ones(len(answers)) if weights is None else np.asarray(weights, dtype=float)
    if len(weight) != len(answers) or (weight < 0).any():
        raise StudyError("The weights and the answers do not go together.", hint="Give every answer one weight of 0 or more.")
    kept = weight > 0
    x = columns(terms, len(answers), with_intercept=False)[kept] if terms else np.zeros((int(kept.sum()), 0))
    given, step = np.unique(np.asarray(answers, dtype=float)[kept], return_inverse=True)
    if len(given) < 2:
        raise StudyError("All answers are alike, so that nothing can be compared.", hint="Give answers in at least two steps.")
    return Answers(step=step, x=x, weight=weight[kept])


def proportional_odds(
    answers: Sequence[float],
    terms: Terms,
    *,
    weights: Sequence[float] | None = None,
    clusters: Sequence[Sequence[Hashable]] = (),
) -> OddsFit:
    """Fit the odds of a higher answer to terms, alike at every cut.

    Args:
        answers: The step of each answer; only their order counts.
        terms: The terms.
        weights: How often each row counts, for tallies; None where each counts once.
        clusters: Up to two ways in which answers hang together, such as by player and by pair of days; none where each stands for itself.

    Raises:
        StudyError: All answer alike, or the model cannot be fitted.
    """
    import numpy as np

    rows = ready(answers, terms, weights)
    found = _climb(_start(rows), rows)
    hessian = curvature(lambda at: _score(at, rows).sum(axis=0), found)
    try:
        spread = np.linalg.inv(-hessian)
    except np.linalg.LinAlgError as problem:
        raise StudyError("The model cannot be fitted to these rows.", hint="There is too little difference among them.") from problem
    if clusters:
        spread = spread @ _together(_score(found, rows), clusters) @ spread
    errors = np.sqrt(np.maximum(np.diag(spread), 0.0))
    refuse_endless(found[rows.cuts :], rows.x)
    return OddsFit(
        terms=named(tuple(terms), found[rows.cuts :], errors[rows.cuts :]),
        cuts=named(cut_names(rows), found[: rows.cuts], errors[: rows.cuts]),
        log_likelihood=_log_likelihood(found, rows),
    )


def cut_names(rows: Answers) -> tuple[str, ...]:
    """Names of the cuts, from the lowest."""
    return tuple(f"cut{number}" for number in range(1, rows.cuts + 1))


def _start(rows: Answers) -> NDArray[float64]:
    """Cuts as they are without terms, and terms that do nothing."""
    import numpy as np

    counts = np.bincount(rows.step, weights=rows.weight)
    below = np.cumsum(counts)[:-1] / counts.sum()
    return np.concatenate([np.log(below / (1 - below)), np.zeros(rows.x.shape[1])])


def ends(at: NDArray[float64], rows: Answers, shift: NDArray[float64]) -> tuple[NDArray[float64], NDArray[float64]]:
    """The chance of an answer below each row's upper cut, and below its lower cut."""
    import numpy as np
    from scipy.special import expit

    cuts = np.concatenate([[-np.inf], at[: rows.cuts], [np.inf]])
    return expit(cuts[rows.step + 1] - shift), expit(cuts[rows.step] - shift)


def _log_likelihood(at: NDArray[float64], rows: Answers) -> float:
    import numpy as np

    if (np.diff(at[: rows.cuts]) <= 0).any():
        return float("-inf")
    upper, lower = ends(at, rows, rows.x @ at[rows.cuts :])
    with np.errstate(divide="ignore"):
        return float(rows.weight @ np.log(np.maximum(upper - lower, 0.0)))


def _score(at: NDArray[float64], rows: Answers) -> NDArray[float64]:
    """What each row says of each parameter: the slope of its part of the logarithm of the likelihood."""
    upper, lower = ends(at, rows, rows.x @ at[rows.cuts :])
    return slopes(upper, lower, rows) * rows.weight[:, None]


def slopes(upper: NDArray[float64], lower: NDArray[float64], rows: Answers) -> NDArray[float64]:
    """The slope of the logarithm of each row's chance, by cut and by term."""
    import numpy as np

    chance = np.maximum(upper - lower, 1e-300)
    at_upper, at_lower = upper * (1 - upper) / chance, lower * (1 - lower) / chance
    found = np.zeros((len(rows.step), rows.cuts + 2))
    place = np.arange(len(rows.step))
    found[place, rows.step + 1] += at_upper
    found[place, rows.step] -= at_lower
    return np.hstack([found[:, 1:-1], -(at_upper - at_lower)[:, None] * rows.x])


def _climb(at: NDArray[float64], rows: Answers) -> NDArray[float64]:
    """To the top of the likelihood by its curvature; it has one top (Pratt, Concavity of the log likelihood, 1981)."""
    import numpy as np

    height = _log_likelihood(at, rows)
    for _ in range(_MOST_TURNS):
        slope = _score(at, rows).sum(axis=0)
        if np.abs(slope).max() < _FLAT * rows.weight.sum():
            return at
        try:
            step = np.linalg.solve(curvature(lambda there: _score(there, rows).sum(axis=0), at), -slope)
        except np.linalg.LinAlgError:
            break
        for halved in range(_HALVINGS):
            there = at + step * 0.5**halved
            if _log_likelihood(there, rows) > height:
                break
        else:
            return at
        at, height = there, _log_likelihood(there, rows)
    raise StudyError(
        "The model cannot be fitted to these rows.", hint="One kind of row may hold only the lowest or only the highest answers."
    )


def curvature(slope_at: Callable[[NDArray[float64]], NDArray[float64]], at: NDArray[float64]) -> NDArray[float64]:
    """The curvature at a place, by how the slope changes around it."""
    import numpy as np

    found = np.empty((len(at), len(at)))
    for number in range(len(at)):
        step = np.zeros(len(at))
        step[number] = _STEP * max(1.0, abs(at[number]))
        found[number] = (slope_at(at + step) - slope_at(at - step)) / (2 * step[number])
    return (found + found.T) / 2


def _together(scores: NDArray[float64], clusters: Sequence[Sequence[Hashable]]) -> NDArray[float64]:
    """How much the sums over clusters spread; what two ways of hanging together both count is taken off once."""
    import numpy as np

    parts = [_of_clusters(scores, names) for names in clusters]
    if len(parts) == 1:
        return parts[0]
    both = parts[0] + parts[1] - _of_clusters(scores, list(zip(*clusters, strict=True)))
    values, vectors = np.linalg.eigh(both)
    found: NDArray[float64] = vectors @ np.diag(np.maximum(values, 0.0)) @ vectors.T
    return found


def _of_clusters(scores: NDArray[float64], names: Sequence[Hashable]) -> NDArray[float64]:
    import numpy as np

    codes = {name: number for number, name in enumerate(dict.fromkeys(names))}
    sums = np.zeros((len(codes), scores.shape[1]))
    np.add.at(sums, [codes[name] for name in names], scores)
    found: NDArray[float64] = sums.T @ sums * (len(codes) / max(len(codes) - 1, 1))
    return found
