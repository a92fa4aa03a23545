"""Least squares on a few days: coefficients, what they leave unexplained, and which columns tell anything at all.

Source: Scheffé, The Analysis of Variance (1959), for the working.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from marram.core.errors import StudyError
from marram.evidence.effects import Interval

_SAME = 1e-9  # of the length of a column: less than that is rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """What least squares say.

    Attributes:
        coefficients: One for each column.
        spreads: For each coefficient, its variance in units of the residual variance.
        residual_squares: Sum of squares of what is left unexplained; 0 where that is rounding.
        freedom: Degrees of freedom of what is left.
    """

    coefficients: tuple[float, ...]
    spreads: tuple[float, ...]
    residual_squares: float
    freedom: int

    @property
    def residual_variance(self) -> float:
        """Variance of what is left unexplained; 0 where nothing is left to measure it by."""
        return self.residual_squares / self.freedom if self.freedom else 0.0


def fit(values: Sequence[float], columns: Sequence[Sequence[float]]) -> Fitted:
    """Fit columns to values.

    Args:
        values: What was observed, one for each row.
        columns: The columns, each as long as the values; none may follow from the others.

    Raises:
        StudyError: A column follows from the others.
    """
    import numpy as np

    matrix, observed = np.array(columns, dtype=float).T, np.array(values, dtype=float)
    orthogonal, triangle = np.linalg.qr(matrix)
    lengths = np.linalg.norm(matrix, axis=0)
    if len(columns) > len(values) or (np.abs(np.diag(triangle)) <= _SAME * lengths).any():
        raise StudyError("These days cannot tell all of that apart.", hint="Leave out what goes together with something else on every day.")
    inverse = np.linalg.inv(triangle)
    coefficients = inverse @ (orthogonal.T @ observed)
    left = observed - matrix @ coefficients
    squares = float(left @ left)
    return Fitted(
        coefficients=tuple(map(float, coefficients)),
        spreads=tuple(map(float, (inverse**2).sum(axis=1))),
        residual_squares=0.0 if squares <= (_SAME**2) * float(observed @ observed) else squares,
        freedom=len(values) - len(columns),
    )


def independent(columns: Sequence[Sequence[float]]) -> tuple[int, ...]:
    """Places of the columns that do not follow from those before them."""
    import numpy as np

    kept: list[int] = []
    if not columns:
        return ()
    basis = np.zeros((len(columns[0]), min(len(columns), len(columns[0]))))
    for place, column in enumerate(columns):
        left = np.array(column, dtype=float)
        length, known = float(np.linalg.norm(left)), basis[:, : len(kept)]
        for _ in range(2):  # taken out twice, so that rounding leaves nothing behind
            left = left - known @ (known.T @ left)
        rest = float(np.linalg.norm(left))
        if rest > _SAME * length and len(kept) < len(column):
            basis[:, len(kept)] = left / rest
            kept.append(place)
    return tuple(kept)


def limits(estimate: float, standard_error: float, freedom: float, level: float) -> Interval:
    """Student's limits of an estimate.

    Args:
        estimate: The estimate.
        standard_error: Its standard error.
        freedom: Degrees of freedom of the standard error.
        level: Such as 0.95.
    """
    half = quantile((1 + level) / 2, freedom) * standard_error
    return Interval(low=estimate - half, high=estimate + half)


@lru_cache(maxsize=1024)
def quantile(part: float, freedom: float) -> float:
    """The value below which so large a part of Student's law lies."""
    from scipy.special import stdtrit

    return float(stdtrit(freedom, part))


def chance(estimate: float, standard_error: float, freedom: float) -> float:
    """Two-sided p of an estimate by Student's t."""
    from scipy.special import stdtr

    return float(2 * stdtr(freedom, -abs(estimate) / standard_error))


def indicators(names: Sequence[str]) -> list[list[float]]:
    """A column for each name but the first: 1 on the rows that have it, else 0."""
    return [[float(name == own) for own in names] for name in list(dict.fromkeys(names))[1:]]
