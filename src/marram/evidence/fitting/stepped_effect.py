"""A stepped roll-out: what went with the trial rules while courses went over to them one after another, at steps that were drawn.

Each course is held against itself and each period against the courses that had not yet gone over in it, so that what differs between
courses and what changes with the season falls out. That takes the effect for the same in every period after the switch. Where it grows
or wears off the fit mixes it up with the season, so it is worked out by time since the switch besides. Limits and p come of the draw
alone: the steps are dealt out anew among the courses in every way, and the effect is held against what those ways would have shown.

Source: Hussey and Hughes, Design and analysis of stepped wedge cluster randomized trials (2007), for the model; Kenny and others, Analysis
of stepped wedge cluster randomized trials in the presence of a time-varying treatment effect (2022), for the time since the switch;
Fisher, The Design of Experiments (1935), for the test by the draw.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import factorial, fsum, inf, prod
from random import Random
from statistics import fmean
from typing import TYPE_CHECKING

from marram.core.errors import StudyError
from marram.evidence.effects import Interval
from marram.evidence.fitting.least_squares import fit, independent, indicators

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

EXACT_UP_TO_WAYS = 5040
"""Up to so many ways of dealing out the steps all are gone through; of more, as many are drawn."""
_SAME = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A course in a period.

    Attributes:
        unit: Name of the course.
        period: Number of the period, the first is 1.
        value: Its value.
    """

    unit: str
    period: int
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SteppedEffect:
    """What went with the trial rules.

    Attributes:
        estimate: Periods under trial rules less periods under ordinary rules, courses and periods taken out.
        p: Two-sided p by the draw.
        ways: Ways in which the steps could have been dealt out.
        is_exact: Whether every way was gone through; otherwise some were drawn from a fixed seed.
        since_switch: The effect in the first period after the switch, in the second and on; empty where these periods cannot tell.
        mean_since_switch: Mean of these over the periods played under trial rules; None where these periods cannot tell.
        trial_mean: Mean over the periods under trial rules.
        ordinary_mean: Mean over the periods under ordinary rules.
        units: How many courses.
        ends: For each way, between which effects it would have shown as much: all lower ends in order, and all upper ends from the top.
    """

    estimate: float
    p: float
    ways: int
    is_exact: bool
    since_switch: tuple[float, ...]
    mean_since_switch: float | None
    trial_mean: float
    ordinary_mean: float
    units: int
    ends: tuple[tuple[float, ...], tuple[float, ...]]

    @property
    def has_spread(self) -> bool:
        """Whether the draw bounds the effect."""
        return self.interval90.is_bounded and self.interval90.low < self.interval90.high

    @property
    def sd(self) -> float:
        """0: the draw gives limits and no spread of one course."""
        return 0.0

    @property
    def interval95(self) -> Interval:
        """Its 95 % interval by the draw; without ends where there are too few ways."""
        return self.limits(0.95)

    @property
    def interval90(self) -> Interval:
        """Its 90 % interval by the draw."""
        return self.limits(0.90)

    def limits(self, level: float) -> Interval:
        """The interval at a level, such as 0.986: effects that the draw does not rule out."""
        lows, highs = self.ends
        spare = int((1 - level) * len(lows) + _SAME)
        return Interval(low=lows[spare], high=highs[spare])

    @property
    def p_t(self) -> float:
        """Two-sided p by the draw."""
        return self.p

    @property
    def p_sign_flip(self) -> float | None:
        """The same: what is turned is the draw."""
        return self.p


def ways_of(switches: Sequence[int]) -> int:
    """In how many ways steps can be dealt out among courses.

    Args:
        switches: For each course, the period from which it plays trial rules.
    """
    return factorial(len(switches)) // prod(factorial(count) for count in Counter(switches).values())


def stepped_effect(cells: Sequence[Cell], switches: Mapping[str, int], *, seed: int = 1) -> SteppedEffect:
    """Weigh a stepped roll-out.

    Args:
        cells: What was observed, one value for each course and period; some may be missing.
        switches: For each course, the period from which it plays trial rules.
        seed: Start of the draws where there are too many ways to go through all.

    Raises:
        StudyError: A course and period comes twice, a course has no step, or courses and periods leave nothing to tell the rules by.
    """
    _check(cells, switches)
    units = list(dict.fromkeys(cell.unit for cell in cells))
    own = [switches[unit] for unit in units]
    places = [units.index(cell.unit) for cell in cells]
    played = [float(cell.period >= switches[cell.unit]) for cell in cells]
    ground = _ground(cells)
    if len(independent([*ground, played])) == len(ground):
        raise StudyError("No period has courses under both sets of rules, so season and rules cannot be told apart.", where="periods")
    ways, total = _ways(own, seed), ways_of(own)
    tested = _tested([cell.value for cell in cells], ground, played, _dealt(cells, places, ways))
    since = _by_time(cells, switches, ground)
    return SteppedEffect(
        estimate=tested.estimate,
        p=tested.p,
        ways=total,
        is_exact=total <= EXACT_UP_TO_WAYS,
        since_switch=tuple(effect for effect, _ in since),
        mean_since_switch=fsum(effect * count for effect, count in since) / fsum(count for _, count in since) if since else None,
        trial_mean=fmean(cell.value for cell, on in zip(cells, played, strict=True) if on),
        ordinary_mean=fmean(cell.value for cell, on in zip(cells, played, strict=True) if not on),
        units=len(units),
        ends=(tested.lows, tested.highs),
    )


def _check(cells: Sequence[Cell], switches: Mapping[str, int]) -> None:
    twice = [key for key, count in Counter((cell.unit, cell.period) for cell in cells).items() if count > 1]
    if twice:
        raise StudyError(f"{twice[0][0]} stands twice in period {twice[0][1]}.", where="periods", hint="Give one value for each.")
    lacking = sorted({cell.unit for cell in cells} - switches.keys())
    if lacking:
        raise StudyError(f"{lacking[0]} has no step.", where="steps", hint="Say for each course from which period it plays trial rules.")


def _ground(cells: Sequence[Cell]) -> list[list[float]]:
    """What is taken out: each course and each period by itself."""
    columns = [
        [1.0] * len(cells), *indicators([cell.unit for cell in cells]), *indicators([str(cell.period) for cell in cells])
    ]  # fmt: skip
    return [columns[place] for place in independent(columns)]


def _ways(own: Sequence[int], seed: int) -> list[tuple[int, ...]]:
    """The ways that are gone through, that of the trial itself among them."""
    if ways_of(own) <= EXACT_UP_TO_WAYS:
        return list(_all_deals(tuple(sorted(own))))
    chance, steps = Random(seed), list(own)
    found = [tuple(own)]
    for _ in range(EXACT_UP_TO_WAYS - 1):
        chance.shuffle(steps)
        found.append(tuple(steps))
    return found


@lru_cache(maxsize=64)
def _all_deals(steps: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    return tuple(_deals(Counter(steps), len(steps)))


def _deals(left: Counter[int], units: int) -> Iterator[tuple[int, ...]]:
    """Every way to deal out the steps that are left among so many courses."""
    if not units:
        yield ()
        return
    for step in sorted(step for step, count in left.items() if count):
        for rest in _deals(left - Counter([step]), units - 1):
            yield (step, *rest)


@dataclass(frozen=True, slots=True)
class _Tested:
    """The effect held against every way: the ends between which each way would show as much or more."""

    estimate: float
    p: float
    lows: tuple[float, ...]
    highs: tuple[float, ...]


def _dealt(cells: Sequence[Cell], places: Sequence[int], ways: Sequence[Sequence[int]]) -> NDArray[np.float64]:
    """For each way which courses and periods would have been under trial rules."""
    import numpy as np

    periods, of_cells = np.array([cell.period for cell in cells]), np.array(ways)[:, list(places)]
    return (periods >= of_cells).astype(float)


def _tested(values: Sequence[float], ground: Sequence[Sequence[float]], played: Sequence[float], dealt: NDArray[np.float64]) -> _Tested:
    import numpy as np

    basis, _ = np.linalg.qr(np.array(ground).T)
    observed, size = np.array(values), max(float(np.abs(values).max()), 1e-300)
    left = _cleared(observed[None, :], basis)[0]
    observed = left if float(np.abs(left).max()) > _SAME * size else np.zeros_like(left)  # what is all the same differs by rounding alone
    own, others = _cleared(np.array([played]), basis), _cleared(dealt, basis)
    length = float(np.linalg.norm(own))
    unit = own[0] / length
    lengths = np.linalg.norm(others, axis=1)
    others = np.divide(others, lengths[:, None], out=np.zeros_like(others), where=lengths[:, None] > _SAME)
    shown, shares = float(unit @ observed), others @ unit
    shown_by = others @ observed
    lows, highs = _ends(shown, shown_by, shares)
    p = float((np.abs(shown_by) >= abs(shown) - _SAME * size).mean())
    return _Tested(shown / length, p, tuple(np.sort(lows / length).tolist()), tuple(np.sort(highs / length)[::-1].tolist()))


def _cleared(columns: NDArray[np.float64], basis: NDArray[np.float64]) -> NDArray[np.float64]:
    """Columns with courses and periods taken out."""
    return columns - (columns @ basis) @ basis.T


def _ends(shown: float, by_way: NDArray[np.float64], shares: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """For each way the ends between which a supposed effect would have it show at least as much as the way that was drawn.

    With an effect d taken off, the drawn way shows `shown - d` and another `by_way - d share`, with a share between -1 and 1: the other
    shows as much or more between the two effects at which they are equal. A way whose share is 1 or -1 always shows as much.
    """
    import numpy as np

    with np.errstate(divide="ignore", invalid="ignore"):
        ends = np.stack([(shown - by_way) / (1 - shares), (shown + by_way) / (1 + shares)])
    lows, highs = ends.min(axis=0), ends.max(axis=0)
    is_alike = np.abs(shares) > 1 - _SAME
    return np.where(is_alike, -inf, lows), np.where(is_alike, inf, highs)


def _by_time(cells: Sequence[Cell], switches: Mapping[str, int], ground: Sequence[Sequence[float]]) -> list[tuple[float, int]]:
    """The effect in each period after the switch, with the number of courses that played it; none where they cannot all be told."""
    since = [cell.period - switches[cell.unit] for cell in cells]
    times = sorted({time for time in since if time >= 0})
    columns = [*ground, *([float(own == time) for own in since] for time in times)]
    if len(independent(columns)) < len(columns):
        return []
    effects = fit([cell.value for cell in cells], columns).coefficients[len(ground) :]
    return [(effect, since.count(time)) for effect, time in zip(effects, times, strict=True)]
