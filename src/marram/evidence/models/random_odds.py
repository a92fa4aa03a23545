"""Answers of players who answer several times: a ratio of odds within one and the same player, whose leaning is drawn from a normal spread.

Source: Christensen, A tutorial on fitting cumulative link mixed models (2015), for the model and its worked values; the integral over
the leaning is Gauss's and Hermite's sum.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from math import exp
from typing import TYPE_CHECKING

from marram.core.errors import StudyError
from marram.evidence.models.fitted import Coefficient, Terms, named
from marram.evidence.models.odds_model import Answers, curvature, cut_names, ends, proportional_odds, ready, slopes

if TYPE_CHECKING:
    from numpy import float64, int64
    from numpy.typing import NDArray

_POINTS = 40
"""Places at which the leaning of a player is tried; with 30 the worked values of the source are met already."""
_NO_LEANING = -6.0
"""Logarithm of a spread of leanings below which there is none to speak of."""
_NO_TOP = "The model cannot be fitted to these rows."


@dataclass(frozen=True, slots=True, kw_only=True)
class RandomOddsFit:
    """A model of answers in steps with players who lean one way or another.

    Attributes:
        terms: Logarithm of the ratio of odds within a player, by term.
        cuts: Where one step passes into the next for a player who leans no way.
        variance: Variance of the leanings.
        log_likelihood: Logarithm of the likelihood.
    """

    terms: tuple[Coefficient, ...]
    cuts: tuple[Coefficient, ...]
    variance: float
    log_likelihood: float


def odds_within_players(answers: Sequence[float], terms: Terms, players: Sequence[Hashable]) -> RandomOddsFit:
    """Fit the odds of a higher answer within a player.

    Args:
        answers: The step of each answer.
        terms: The terms.
        players: Who gave it.

    Raises:
        StudyError: All answer alike, or the model cannot be fitted.
    """
    import numpy as np
    from scipy.optimize import minimize

    rows, model = ready(answers, terms, None), proportional_odds(answers, terms)
    of = _codes(players)
    start = np.array([*(cut.estimate for cut in model.cuts), *(term.estimate for term in model.terms), 0.0])

    def lost(at: NDArray[float64]) -> tuple[float, NDArray[float64]]:
        height, slope = _height(at, rows, of)
        return -height, -slope

    top = minimize(lost, start, jac=True, method="BFGS", options={"gtol": 1e-5 * len(answers), "maxiter": 500})
    found = top.x
    if not np.isfinite(top.fun) or (np.diff(found[: rows.cuts]) <= 0).any():
        raise StudyError(_NO_TOP, hint="There is too little difference among them.")
    errors = _errors(found, rows, of)
    return RandomOddsFit(
        terms=named(tuple(terms), found[rows.cuts : -1], errors[rows.cuts : -1]),
        cuts=named(cut_names(rows), found[: rows.cuts], errors[: rows.cuts]),
        variance=exp(2 * found[-1]),
        log_likelihood=-float(top.fun),
    )


def _codes(players: Sequence[Hashable]) -> NDArray[int64]:
    import numpy as np

    codes = {name: number for number, name in enumerate(dict.fromkeys(players))}
    return np.array([codes[name] for name in players], dtype=np.int64)


def _errors(found: NDArray[float64], rows: Answers, of: NDArray[int64]) -> NDArray[float64]:
    """Standard errors by the curvature at the top; where there is no leaning to speak of its own curvature is left out."""
    import numpy as np

    around = curvature(lambda at: _height(at, rows, of)[1], found)
    kept = slice(None) if found[-1] > _NO_LEANING else slice(0, -1)
    errors = np.ones(len(found))
    try:
        errors[kept] = np.sqrt(np.maximum(np.diag(np.linalg.inv(-around[kept, kept])), 0.0))
    except np.linalg.LinAlgError as problem:
        raise StudyError(_NO_TOP, hint="There is too little difference among them.") from problem
    return errors


def _height(at: NDArray[float64], rows: Answers, of: NDArray[int64]) -> tuple[float, NDArray[float64]]:
    """Logarithm of the likelihood and its slope, over all players and all places at which a leaning is tried."""
    import numpy as np
    from scipy.special import logsumexp

    none = (float("-inf"), np.zeros(len(at)))
    if (np.diff(at[: rows.cuts]) <= 0).any():
        return none
    places, weights = np.polynomial.hermite_e.hermegauss(_POINTS)
    leanings, spread = places * np.exp(at[-1]), np.log(weights / weights.sum())
    middle, players = rows.x @ at[rows.cuts : -1], int(of.max()) + 1
    logs, parts = np.empty((players, _POINTS)), []
    for number, leaning in enumerate(leanings):
        upper, lower = ends(at, rows, middle + leaning)
        logs[:, number] = np.bincount(of, np.log(np.maximum(upper - lower, 1e-300)), players) + spread[number]
        own = slopes(upper, lower, rows)
        tilt = -(upper * (1 - upper) - lower * (1 - lower)) / np.maximum(upper - lower, 1e-300) * leaning
        parts.append(np.column_stack([own, tilt]))
    of_player = logsumexp(logs, axis=1)
    chances = np.exp(logs - of_player[:, None])
    slope = np.sum([chances[of, number] @ part for number, part in enumerate(parts)], axis=0)
    return float(of_player.sum()), slope
