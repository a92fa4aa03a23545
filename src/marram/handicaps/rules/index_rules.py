"""The rules by which differentials become a Handicap Index."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Cited
from marram.core.errors import RuleDataError
from marram.handicaps.rules.rule_reader import RuleReader
from marram.rulebook.book import Book


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """How an Index is averaged from a number of scores.

    Attributes:
        scores_least: Scores on the record from which it holds.
        lowest: So many of the lowest differentials are averaged.
        subtract: Strokes taken off the average.
    """

    scores_least: int
    lowest: int
    subtract: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ExceptionalStep:
    """How far under the Index a score is exceptional.

    Attributes:
        under_index_least: Strokes under the Index from which it holds.
        reduce: Strokes taken off each recent differential.
    """

    under_index_least: Fraction
    reduce: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class CapRules:
    """How far an average may lie above the Low Index.

    Attributes:
        soft_over: Strokes above which a rise is slowed.
        soft_kept_share: Share kept of what lies above.
        hard_over: Strokes at which a rise stops.
    """

    soft_over: Fraction
    soft_kept_share: Fraction
    hard_over: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class LowIndexRules:
    """What the Low Index is.

    Attributes:
        scores_least: Differentials on the record that it takes.
        days: Days before the last score on the record over which it is the lowest Index.
    """

    scores_least: int
    days: int


@dataclass(frozen=True, slots=True, kw_only=True)
class IndexRules:
    """Everything that an Index is worked out by.

    Attributes:
        bands: How it is averaged, fewest scores first.
        recent: So many of the most recent differentials are looked at.
        holes_least: Holes on the record that a first Index takes.
        most: The highest Index.
        exceptional: Steps of exceptional scores, the smallest first.
        low_index: What the Low Index is.
        caps: How far an average may lie above it.
        decimals: Decimals of an Index.
    """

    bands: tuple[Band, ...]
    recent: int
    holes_least: int
    most: Fraction
    exceptional: tuple[ExceptionalStep, ...]
    low_index: LowIndexRules
    caps: CapRules
    decimals: int


def index_rules(book: Book) -> Cited[IndexRules]:
    """Everything that an Index is worked out by under a book."""
    read = RuleReader(book)
    rules = IndexRules(
        bands=_bands(read, read.rows("index-from")),
        recent=read.whole("index-record.recent", least=1),
        holes_least=read.whole("index-record.holes_least"),
        most=read.exact("index-limit.most"),
        exceptional=_steps(read, read.rows("exceptional")),
        low_index=LowIndexRules(scores_least=read.whole("low-index.scores_least"), days=read.whole("low-index.days")),
        caps=CapRules(
            soft_over=read.exact("index-caps.soft_over"),
            soft_kept_share=read.share("index-caps.soft_kept_pct"),
            hard_over=read.exact("index-caps.hard_over"),
        ),
        decimals=read.decimals("index"),
    )
    return Cited(value=rules, citations=read.citations)


def _bands(read: RuleReader, rows: Iterable[str]) -> tuple[Band, ...]:
    bands = [_band(read, row) for row in rows]
    if not bands:
        raise RuleDataError("No row says how many scores are averaged.", where="index-from", hint="Keep one of them at least.")
    return tuple(sorted(bands, key=lambda band: band.scores_least))


def _band(read: RuleReader, row: str) -> Band:
    return Band(
        scores_least=read.whole(f"{row}.scores_least", least=1),
        lowest=read.whole(f"{row}.lowest", least=1),
        subtract=read.exact(f"{row}.subtract"),
    )


def _steps(read: RuleReader, rows: Iterable[str]) -> tuple[ExceptionalStep, ...]:
    steps = [ExceptionalStep(under_index_least=read.exact(f"{row}.under_index_least"), reduce=read.exact(f"{row}.reduce")) for row in rows]
    return tuple(sorted(steps, key=lambda step: step.under_index_least))
