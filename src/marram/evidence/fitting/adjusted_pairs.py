"""Pairs of days adjusted for weather and field: the difference as it would be between two days alike in what the plan named.

What is adjusted for is fixed in the plan, since with a choice afterwards some adjustment shows whatever one likes. The difference of each
pair is fitted to how its two days differ; what is left where they do not differ is the adjusted effect.

Source: Fisher, Statistical Methods for Research Workers (1932), section 49.1, for the working.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from marram.evidence.effects import Interval
from marram.evidence.fitting.least_squares import chance, fit, independent, limits
from marram.evidence.verdicts import FEWEST_PAIRS

Told = Mapping[str, tuple[str, str]]
"""By pair, what was written down of its trial day and of its ordinary day; empty where nothing was."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjustedDifference:
    """A difference of pairs of days, adjusted.

    Attributes:
        by: What was to be adjusted for, as the plan has it.
        estimate: The difference between two days alike in that; None where it cannot be told.
        interval95: Its 95 % interval.
        interval90: Its 90 % interval.
        p: Its two-sided p.
        pairs: Pairs that it rests on.
        left_out: Pairs of which one day lacks it.
        same: What never differed within a pair, so that there was nothing to adjust for.
        reason: Why it cannot be told; empty where it can.
    """

    by: tuple[str, ...]
    estimate: float | None = None
    interval95: Interval | None = None
    interval90: Interval | None = None
    p: float | None = None
    pairs: int = 0
    left_out: tuple[str, ...] = ()
    same: tuple[str, ...] = ()
    reason: str = ""


def adjust_pairs(pairs: Sequence[tuple[str, float, float]], by: Mapping[str, Told]) -> AdjustedDifference:
    """Adjust the differences of pairs of days.

    Args:
        pairs: For each pair its name, the value of the trial day and that of the ordinary day.
        by: What is adjusted for, by name: what was written down of both days of each pair.
    """
    lacking = tuple(name for name, _, _ in pairs if not all(all(told.get(name, ("", ""))) for told in by.values()))
    kept = [pair for pair in pairs if pair[0] not in lacking]
    mixed = [name for name, told in by.items() if _is_mixed([word for pair, _, _ in kept for word in told[pair]])]
    names = [name for name, _, _ in kept]
    columns: list[list[float]] = []
    same = []
    for covariate, told in by.items():
        own = _columns([told[name] for name in names])
        if not own:
            same.append(covariate)
        columns += own
    ones = [1.0] * len(kept)
    columns = [[ones, *columns][place] for place in independent([ones, *columns])]
    bare = {"by": tuple(by), "pairs": len(kept), "left_out": lacking, "same": tuple(same)}
    reason = f"{mixed[0]} is a number on some days and a word on others" if mixed else ""
    reason = reason or _why_not(len(kept), len(columns), has_any=len(same) < len(by))
    if reason:
        return AdjustedDifference(**bare, reason=reason)  # type: ignore[arg-type]
    fitted = fit([trial - ordinary for _, trial, ordinary in kept], columns)
    estimate, error = fitted.coefficients[0], sqrt(fitted.residual_variance * fitted.spreads[0])
    if not error > 0:
        return AdjustedDifference(**bare, reason="the pairs leave no spread once adjusted")  # type: ignore[arg-type]
    return AdjustedDifference(
        **bare,  # type: ignore[arg-type]
        estimate=estimate,
        interval95=limits(estimate, error, fitted.freedom, 0.95),
        interval90=limits(estimate, error, fitted.freedom, 0.90),
        p=chance(estimate, error, fitted.freedom),
    )


def _columns(told: Sequence[tuple[str, str]]) -> list[list[float]]:
    """How the two days of each pair differ: numbers by their difference, words by a column for each word but the first."""
    numbers = [(_number(trial), _number(ordinary)) for trial, ordinary in told]
    if all(trial is not None and ordinary is not None for trial, ordinary in numbers):
        differences = [[trial - ordinary for trial, ordinary in numbers if trial is not None and ordinary is not None]]
    else:
        classes = sorted({word.lower() for both in told for word in both})[1:]
        differences = [[float(trial.lower() == name) - float(ordinary.lower() == name) for trial, ordinary in told] for name in classes]
    return [column for column in differences if any(column)]


def _is_mixed(words: Sequence[str]) -> bool:
    """Whether some of the days give a number and others a word."""
    return len({_number(word) is None for word in words}) > 1


def _number(text: str) -> float | None:
    try:
        found = float(text)
    except ValueError:
        return None
    return found if isfinite(found) else None


def _why_not(pairs: int, columns: int, *, has_any: bool) -> str:
    if not pairs:
        return "no pair has it written down for both days"
    if not has_any:
        return "it never differed between the two days of a pair, so that there is nothing to adjust for"
    if pairs - columns < FEWEST_PAIRS - 1:
        return f"{pairs} pairs are too few to adjust for it: at least {columns + FEWEST_PAIRS - 1} are needed"
    return ""
