"""A season rehearsed before it is played: the words that a report would say, drawn many times, with guards, lost days and all changes.

A plan that finds an effect with a chance of 80 % may still end in the good word in few seasons: the effect must come out as large as asked
for, every guard must be shown to be kept, and all outcomes of the trial share one allowance for praise by chance. So the words themselves
are drawn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import sqrt
from typing import TYPE_CHECKING, TypeVar

from marram.core.errors import StudyError
from marram.evidence.effects import Interval
from marram.evidence.guards import GuardWord
from marram.evidence.verdicts import FEWEST_PAIRS, MOST_MISSING, Overall, Verdict, Wanted, is_praise, overall_of, verdict_of
from marram.evidence.weighing.one_change import FALSE_PRAISE, guard_word
from marram.records.outcomes import Worse

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Word = TypeVar("Word")
SEASONS = 1000
"""Seasons drawn for each supposed effect: a chance of one half then has a Monte Carlo error of 1.6 parts of a hundred."""
SUPPOSED = (0.0, 1.0, 1.5, 2.0)
"""Supposed effects, in multiples of the smallest that matters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RehearsedGuard:
    """A guard as it is planned: its outcome, margin, which way is worse, and the spread of the difference of two days of a pair."""

    outcome: str
    margin: float
    worse: Worse
    sd: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RehearsedChange:
    """A change as it is planned.

    Attributes:
        number: Its number.
        outcome: Its outcome.
        matters: Smallest effect that matters, in its unit.
        sd: Standard deviation of the difference of two days of a pair.
        wants_less: Whether less is what is wanted.
        guards: Its guards.
    """

    number: int
    outcome: str
    matters: float
    sd: float
    wants_less: bool
    guards: tuple[RehearsedGuard, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Outlook:
    """How a change would come out if its effect were so large.

    Attributes:
        change: Number of the change.
        supposed: The supposed effect, in multiples of the smallest that matters; guards are supposed not to move.
        overall: Chance of each line over the change, as a part of 1; where others share its outcome, of the line over them together.
        verdicts: Chance of each word for its outcome.
        error: Monte Carlo error of these chances, at most, as a standard deviation.
    """

    change: int
    supposed: float
    overall: Mapping[Overall, float]
    verdicts: Mapping[Verdict, float]
    error: float


def rehearse(
    changes: Sequence[RehearsedChange],
    *,
    pairs: int,
    lost: float = 0.0,
    seasons: int = SEASONS,
    seed: int = 1,
    supposed: Sequence[float] = SUPPOSED,
) -> tuple[Outlook, ...]:
    """Draw the season of a plan many times and count the words.

    Args:
        changes: The changes that days judge.
        pairs: Pairs of days planned.
        lost: Part of the pairs that is lost to weather or to a missing day, each pair by itself.
        seasons: Seasons to draw for each supposed effect.
        seed: Start of the draws.
        supposed: Supposed effects of all changes, in multiples of the smallest that matters.

    Raises:
        StudyError: The share lost is not from 0 up to 1, or no season is drawn.
    """
    if not 0 <= lost < 1 or seasons < 1:
        raise StudyError(f"A season with {lost:g} of its pairs lost, drawn {seasons} times, cannot be rehearsed.", where="lost")
    return tuple(outlook for times in supposed for outlook in _outlooks(changes, pairs, lost, seasons, seed, times))


def _outlooks(changes: Sequence[RehearsedChange], pairs: int, lost: float, seasons: int, seed: int, times: float) -> list[Outlook]:
    drawn = _Drawn(changes, pairs, lost, seasons, seed, times)
    words = [drawn.words_of(season) for season in range(seasons)]
    return [
        Outlook(
            change=change.number,
            supposed=times,
            overall=_shares(Counter(overall for _, overall in (season[place] for season in words)), list(Overall), seasons),
            verdicts=_shares(Counter(verdict for verdict, _ in (season[place] for season in words)), list(Verdict), seasons),
            error=sqrt(0.25 / seasons),
        )
        for place, change in enumerate(changes)
    ]


def _shares(counts: Counter[Word], words: Sequence[Word], of: int) -> dict[Word, float]:
    return {word: counts[word] / of for word in words}


class _Drawn:
    """Seasons drawn for one supposed effect: for each outcome the mean difference and the spread of the pairs that were kept."""

    def __init__(self, changes: Sequence[RehearsedChange], pairs: int, lost: float, seasons: int, seed: int, times: float) -> None:
        import numpy as np

        chance = np.random.default_rng([seed, round(times * 1000)])
        self.changes, self.pairs = changes, pairs
        kept = chance.random((seasons, pairs)) >= lost
        self.kept = kept.sum(axis=1)
        self.means: dict[str, NDArray[np.float64]] = {}
        self.sds: dict[str, NDArray[np.float64]] = {}
        effects = {change.outcome: times * change.matters * (-1 if change.wants_less else 1) for change in changes}
        spreads = {guard.outcome: guard.sd for change in changes for guard in change.guards} | {
            change.outcome: change.sd for change in changes
        }
        for outcome, sd in spreads.items():
            differences = np.where(kept, chance.normal(effects.get(outcome, 0.0), sd, (seasons, pairs)), np.nan)
            enough = np.maximum(self.kept, 2)
            sums = np.nansum(differences, axis=1)
            self.means[outcome] = sums / enough
            self.sds[outcome] = np.sqrt(np.nansum((differences - self.means[outcome][:, None]) ** 2, axis=1) / (enough - 1))

        self.raised = self._holm()

    def words_of(self, season: int) -> list[tuple[Verdict, Overall]]:
        """The word for each change and the line over it, by the rules of the report."""
        kept = int(self.kept[season])
        if kept < FEWEST_PAIRS or 1 - kept / self.pairs > MOST_MISSING:
            return [(Verdict.TOO_LITTLE, Overall.OPEN) for _ in self.changes]
        found = []
        for change in self.changes:
            verdict = verdict_of(self._wanted(season, kept, change), matters=change.matters, pairs=kept)
            if is_praise(verdict) and self.raised[change.outcome, change.wants_less][season] > FALSE_PRAISE:
                verdict = Verdict.NOT_SHOWN
            found.append((verdict, overall_of(verdict, [self._guard(season, kept, guard) for guard in change.guards])))
        return found

    def _holm(self) -> dict[tuple[str, bool], NDArray[np.float64]]:
        """For each outcome and way wanted the one-sided p of every season, raised as `holm` raises it, all seasons at once."""
        import numpy as np
        from scipy.special import stdtr

        lots = list(dict.fromkeys((change.outcome, change.wants_less) for change in self.changes))
        enough = np.maximum(self.kept, 2)
        p = np.empty((len(lots), len(self.kept)))
        for row, (outcome, wants_less) in enumerate(lots):
            t = self.means[outcome] / np.maximum(self.sds[outcome] / np.sqrt(enough), 1e-300)
            p[row] = stdtr(enough - 1, t if wants_less else -t)
        order = np.argsort(p, axis=0)
        left = np.arange(len(lots), 0, -1)[:, None]
        raised = np.minimum(np.maximum.accumulate(np.take_along_axis(p, order, axis=0) * left, axis=0), 1.0)
        np.put_along_axis(p, order, raised, axis=0)
        return dict(zip(lots, p, strict=True))

    def _limits(self, season: int, kept: int, outcome: str, level: float) -> Interval:
        half = _quantile(kept - 1, level) * float(self.sds[outcome][season]) / sqrt(kept)
        mean = float(self.means[outcome][season])
        return Interval(low=mean - half, high=mean + half)

    def _wanted(self, season: int, kept: int, change: RehearsedChange) -> Wanted:
        wide, narrow = (self._limits(season, kept, change.outcome, level) for level in (0.95, 0.90))
        mean = float(self.means[change.outcome][season])
        if change.wants_less:
            return Wanted(estimate=-mean, interval95=wide.turned(), interval90=narrow.turned())
        return Wanted(estimate=mean, interval95=wide, interval90=narrow)

    def _guard(self, season: int, kept: int, guard: RehearsedGuard) -> GuardWord:
        return guard_word(self._limits(season, kept, guard.outcome, 0.90), guard.margin, guard.worse)


@lru_cache(maxsize=1024)
def _quantile(freedom: int, level: float) -> float:
    from scipy.stats import t

    return float(t.ppf((1 + level) / 2, freedom))
