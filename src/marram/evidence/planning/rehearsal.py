"""A season rehearsed before it is played: the words that a report would say, drawn many times, with guards, lost days and all changes.

A plan that finds an effect with a chance of 80 % may still end in the good word in few seasons: the effect must come out as large as asked
for, every guard must be shown to be kept, and all outcomes of the trial share one allowance for praise by chance. So the words themselves
are drawn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import sqrt
from typing import TYPE_CHECKING, TypeVar

from marram.core.errors import StudyError
from marram.evidence.effects import Interval
from marram.evidence.guards import GuardWord
from marram.evidence.looks import Looks, alarm_at
from marram.evidence.verdicts import FEWEST_PAIRS, MOST_MISSING, Overall, Verdict, Wanted, as_wanted, is_praise, line_over, verdict_of
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
        ended_at: Chance that the line stands at each planned look before the last; empty where there is none.
    """

    change: int
    supposed: float
    overall: Mapping[Overall, float]
    verdicts: Mapping[Verdict, float]
    error: float
    ended_at: tuple[float, ...] = ()


def rehearse(
    changes: Sequence[RehearsedChange],
    *,
    pairs: int,
    lost: float = 0.0,
    seasons: int = SEASONS,
    seed: int = 1,
    supposed: Sequence[float] = SUPPOSED,
    looks: Looks | None = None,
) -> tuple[Outlook, ...]:
    """Draw the season of a plan many times and count the words.

    Args:
        changes: The changes that days judge.
        pairs: Pairs of days planned.
        lost: Part of the pairs that is lost to weather or to a missing day, each pair by itself.
        seasons: Seasons to draw for each supposed effect.
        seed: Start of the draws.
        supposed: Supposed effects of all changes, in multiples of the smallest that matters.
        looks: Looks that are planned before the end; a change ends at the first that gives a line over it.

    Raises:
        StudyError: The share lost is not from 0 up to 1, or no season is drawn.
    """
    if not 0 <= lost < 1 or seasons < 1:
        raise StudyError(f"A season with {lost:g} of its pairs lost, drawn {seasons} times, cannot be rehearsed.", where="lost")
    played = _Played(pairs=pairs, lost=lost, seasons=seasons, seed=seed, looks=looks)
    return tuple(outlook for times in supposed for outlook in _outlooks(changes, played, times))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Played:
    """How seasons are drawn."""

    pairs: int
    lost: float
    seasons: int
    seed: int
    looks: Looks | None


def _outlooks(changes: Sequence[RehearsedChange], played: _Played, times: float) -> list[Outlook]:
    drawn = _Drawn(changes, played, times)
    early = played.looks.planned[:-1] if played.looks is not None else ()
    at_end = drawn.seen()
    words = [at_end.words_of(season) for season in range(played.seasons)]
    ended: dict[tuple[int, int], int] = {}
    for place in reversed(range(len(early))):  # the first look that gives a line stands, so the last is laid on first
        for season, found in drawn.seen(early[place].pairs).words_at_look(early[place].bound):
            for number, word in enumerate(found):
                if word[1] is not Overall.OPEN:
                    words[season][number], ended[season, number] = word, place
    at_look = Counter((number, place) for (_, number), place in ended.items())
    return [
        Outlook(
            change=change.number,
            supposed=times,
            overall=_shares(Counter(overall for _, overall in (season[place] for season in words)), list(Overall), played.seasons),
            verdicts=_shares(Counter(verdict for verdict, _ in (season[place] for season in words)), list(Verdict), played.seasons),
            error=sqrt(0.25 / played.seasons),
            ended_at=tuple(at_look[place, look] / played.seasons for look in range(len(early))),
        )
        for place, change in enumerate(changes)
    ]


def _shares(counts: Counter[Word], words: Sequence[Word], of: int) -> dict[Word, float]:
    return {word: counts[word] / of for word in words}


class _Drawn:
    """Seasons drawn for one supposed effect: the differences of all pairs of each outcome, and which pairs were kept."""

    def __init__(self, changes: Sequence[RehearsedChange], played: _Played, times: float) -> None:
        import numpy as np

        chance = np.random.default_rng([played.seed, round(times * 1000)])
        shape = (played.seasons, played.pairs)
        self.changes, self.played = changes, played
        self.kept = chance.random(shape) >= played.lost
        effects = {change.outcome: times * change.matters * (-1 if change.wants_less else 1) for change in changes}
        spreads = {guard.outcome: guard.sd for change in changes for guard in change.guards} | {
            change.outcome: change.sd for change in changes
        }
        self.differences = {outcome: chance.normal(effects.get(outcome, 0.0), sd, shape) for outcome, sd in spreads.items()}

    def seen(self, pairs: int | None = None) -> _Seen:
        """What is seen after so many pairs were kept, and at the end where no number is given."""
        kept = self.kept if pairs is None else self.kept & (self.kept.cumsum(axis=1) <= pairs)
        return _Seen(self, kept, pairs)


class _Seen:
    """Seasons at one moment: for each outcome the mean difference and the spread of the pairs that were kept by then."""

    def __init__(self, drawn: _Drawn, kept: NDArray[np.bool_], pairs: int | None) -> None:
        import numpy as np

        self.changes, self.played, self.at = drawn.changes, drawn.played, pairs
        self.kept = kept.sum(axis=1)
        self.means: dict[str, NDArray[np.float64]] = {}
        self.sds: dict[str, NDArray[np.float64]] = {}
        enough = np.maximum(self.kept, 2)
        for outcome, all_pairs in drawn.differences.items():
            differences = np.where(kept, all_pairs, np.nan)
            self.means[outcome] = np.nansum(differences, axis=1) / enough
            self.sds[outcome] = np.sqrt(np.nansum((differences - self.means[outcome][:, None]) ** 2, axis=1) / (enough - 1))
        self.p = self._one_sided()
        self.raised = self._holm()

    def words_at_look(self, bound: float) -> Iterator[tuple[int, list[tuple[Verdict, Overall]]]]:
        """The words at a look before the end, for those seasons alone in which something passes the bound."""
        from scipy.stats import norm

        beyond = float(norm.sf(bound))
        passed = {lot: (p <= beyond) | (1 - p <= beyond) for lot, p in self.p.items()}
        for season in range(self.played.seasons):
            by_change = [bool(passed[change.outcome, change.wants_less][season]) for change in self.changes]
            if self.kept[season] == self.at and any(by_change):
                found = self.words_of(season, is_interim=True)
                nothing = (Verdict.TOO_LITTLE, Overall.OPEN)
                yield season, [word if is_passed else nothing for word, is_passed in zip(found, by_change, strict=True)]

    def words_of(self, season: int, *, is_interim: bool = False) -> list[tuple[Verdict, Overall]]:
        """The word for each change and the line over it, by the rules of the report."""
        kept = int(self.kept[season])
        if kept < FEWEST_PAIRS or (not is_interim and 1 - kept / self.played.pairs > MOST_MISSING):
            return [(Verdict.TOO_LITTLE, Overall.OPEN) for _ in self.changes]
        found = []
        for change in self.changes:
            verdict = verdict_of(self._wanted(season, kept, change), matters=change.matters, pairs=kept)
            if is_praise(verdict) and self.raised[change.outcome, change.wants_less][season] > FALSE_PRAISE:
                verdict = Verdict.TOO_LITTLE if is_interim else Verdict.NOT_SHOWN
            guards = [self._guard(season, kept, guard) for guard in change.guards]
            found.append((verdict, line_over(verdict, guards, is_interim=is_interim)))
        return found

    def _one_sided(self) -> dict[tuple[str, bool], NDArray[np.float64]]:
        """For each outcome and way wanted the one-sided p of every season."""
        import numpy as np
        from scipy.special import stdtr

        enough = np.maximum(self.kept, 2)
        found = {}
        for outcome, wants_less in dict.fromkeys((change.outcome, change.wants_less) for change in self.changes):
            t = self.means[outcome] / np.maximum(self.sds[outcome] / np.sqrt(enough), 1e-300)
            found[outcome, wants_less] = stdtr(enough - 1, t if wants_less else -t)
        return found

    def _holm(self) -> dict[tuple[str, bool], NDArray[np.float64]]:
        """The same, over all looks where there are any, raised as `holm` raises it, all seasons at once."""
        import numpy as np

        p = np.array([self._over_looks(one_sided) for one_sided in self.p.values()])
        order = np.argsort(p, axis=0)
        left = np.arange(len(p), 0, -1)[:, None]
        raised = np.minimum(np.maximum.accumulate(np.take_along_axis(p, order, axis=0) * left, axis=0), 1.0)
        np.put_along_axis(p, order, raised, axis=0)
        return dict(zip(self.p, p, strict=True))

    def _over_looks(self, p: NDArray[np.float64]) -> NDArray[np.float64]:
        """What `Look.p_of_all` makes of the p of each season, read from a table of it: by chance so far out at any look."""
        import numpy as np
        from scipy.stats import norm

        if self.played.looks is None:
            return p
        bounds = np.array([self.played.looks.bound_at(int(kept)) for kept in self.kept])
        times, alarms = _alarms(self.played.looks.bounds)
        over = np.exp(np.interp(norm.isf(np.maximum(p, 1e-300)) / bounds, times, np.log(alarms))) / 2
        return np.where(p < 0.5, over, 1.0)

    def _limits(self, season: int, kept: int, outcome: str, level: float) -> Interval:
        half = _quantile(kept - 1, level) * float(self.sds[outcome][season]) / sqrt(kept)
        mean = float(self.means[outcome][season])
        return Interval(low=mean - half, high=mean + half)

    def _wanted(self, season: int, kept: int, change: RehearsedChange) -> Wanted:
        wide, narrow = (self._limits(season, kept, change.outcome, level) for level in self._levels(kept))
        return as_wanted(float(self.means[change.outcome][season]), wide, narrow, is_less_wanted=change.wants_less)

    def _guard(self, season: int, kept: int, guard: RehearsedGuard) -> GuardWord:
        return guard_word(self._limits(season, kept, guard.outcome, self._levels(kept)[1]), guard.margin, guard.worse)

    def _levels(self, kept: int) -> tuple[float, float]:
        """The levels of the intervals of what is meant and of what must not get worse."""
        if self.played.looks is None:
            return 0.95, 0.90
        look = self.played.looks.look_at_end(kept)
        return look.level, look.guard_level


@lru_cache(maxsize=16)
def _alarms(bounds: tuple[float, ...]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """A table of `alarm_at`, close enough that what is read between its lines is right to a ten thousandth."""
    times = tuple(0.02 * step for step in range(1, 201))
    return times, tuple(alarm_at(each, bounds) for each in times)


@lru_cache(maxsize=1024)
def _quantile(freedom: int, level: float) -> float:
    from scipy.stats import t

    return float(t.ppf((1 + level) / 2, freedom))
