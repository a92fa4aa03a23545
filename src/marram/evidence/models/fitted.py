"""What a fitted model says of each of its terms, and the limits that so few days leave to it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import StudyError
from marram.evidence.effects import Interval

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

Terms = Mapping[str, Sequence[float]]
"""The terms of a model by name, each with one number for every row."""
INTERCEPT = "intercept"
_ENDLESS = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Coefficient:
    """What a model says of one of its terms.

    Attributes:
        name: The term.
        estimate: By how much one unit of it moves what is modelled, on the scale of the model.
        standard_error: Its standard error.
    """

    name: str
    estimate: float
    standard_error: float

    def interval(self, level: float, freedom: float) -> Interval:
        """The interval at a level, of Student's t with so many degrees of freedom.

        Args:
            level: Such as 0.95.
            freedom: Degrees of freedom that the randomised units leave.
        """
        from scipy.stats import t

        half = float(t.ppf((1 + level) / 2, freedom)) * self.standard_error
        return Interval(low=self.estimate - half, high=self.estimate + half)


def columns(terms: Terms, rows: int, *, with_intercept: bool = True) -> NDArray[float64]:
    """The terms as columns, the intercept first.

    Args:
        terms: The terms.
        rows: How many rows there are.
        with_intercept: Whether the model has an intercept.

    Raises:
        StudyError: There is no row, a term has another number of rows, or the terms say the same of every row.
    """
    import numpy as np

    if not rows or any(len(values) != rows for values in terms.values()):
        raise StudyError("The terms of a model and its rows differ in number.", hint="Give every term one number for each row.")
    parts = [np.ones(rows)] if with_intercept else []
    found = np.column_stack([*parts, *(np.asarray(values, dtype=float) for values in terms.values())])
    if np.linalg.matrix_rank(found) < found.shape[1]:
        raise StudyError("Two terms of the model say the same of every row.", hint="Leave one of them out.")
    return found


def named(names: Sequence[str], estimates: Iterable[float], errors: Iterable[float]) -> tuple[Coefficient, ...]:
    """The coefficients of a model by name.

    Raises:
        StudyError: One of them is no number: the model cannot be fitted to these rows.
    """
    from math import isfinite

    pairs = [(float(estimate), float(error)) for estimate, error in zip(estimates, errors, strict=True)]
    if not all(isfinite(estimate) and isfinite(error) and error > 0 for estimate, error in pairs):
        raise StudyError("The model cannot be fitted to these rows.", hint="There is too little difference among them.")
    return tuple(Coefficient(name=name, estimate=one, standard_error=error) for name, (one, error) in zip(names, pairs, strict=True))


def refuse_endless(estimates: NDArray[float64], x: NDArray[float64]) -> None:
    """Refuse a fit on a logarithm whose terms run off without end, which they do where one kind of row is all or nothing.

    Args:
        estimates: The coefficients.
        x: Their columns.

    Raises:
        StudyError: A term makes a ratio of more than three millions between two rows.
    """
    import numpy as np

    if (np.abs(estimates) * np.ptp(x, axis=0) > _ENDLESS).any():
        hint = "One kind of row may hold only the lowest or only the highest, or none at all."
        raise StudyError("The model cannot be fitted to these rows.", hint=hint)


def find(coefficients: Sequence[Coefficient], name: str) -> Coefficient:
    """The coefficient of that name.

    Raises:
        LookupError: The model has no such term.
    """
    for found in coefficients:
        if found.name == name:
            return found
    raise LookupError(name)
