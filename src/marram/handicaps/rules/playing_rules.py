"""The rules by which a Course Handicap becomes a Playing Handicap, and an allowance by its format."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Cited
from marram.core.errors import HandicapError
from marram.handicaps.rules.rule_reader import RuleReader
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import PlusGivesFrom, Shared, TakenFrom, Takes, TeesDifferBy
from marram.rulebook.values import nearest_names

FAMILY = "allowance"
_SHARES = ("first_pct", "second_pct", "third_pct", "fourth_pct")


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayingHandicapRules:
    """What becomes of a Course Handicap in a competition.

    Attributes:
        taken_from: What an allowance is taken from.
        tees_differ_by: What is levelled between tees where totals are compared.
        decimals: Decimals of a Playing Handicap.
    """

    taken_from: TakenFrom
    tees_differ_by: TeesDifferBy
    decimals: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """The share of a Course Handicap that a format takes.

    Attributes:
        name: The format.
        means: The format in words.
        shares: The share of each player; of a side one for each of its players, the lowest Course Handicap first.
        shared: Whose Playing Handicap it gives.
        takes: What is received of that.
    """

    name: str
    means: str
    shares: tuple[Fraction, ...]
    shared: Shared
    takes: Takes


def playing_handicap_rules(book: Book) -> Cited[PlayingHandicapRules]:
    """What becomes of a Course Handicap under a book."""
    read = RuleReader(book)
    rules = PlayingHandicapRules(
        taken_from=TakenFrom(read.word("playing-handicap.taken_from")),
        tees_differ_by=TeesDifferBy(read.word("playing-handicap.tees_differ_by")),
        decimals=read.decimals("playing-handicap"),
    )
    return Cited(value=rules, citations=read.citations)


def plus_gives_from(book: Book) -> Cited[PlusGivesFrom]:
    """Where a plus handicap gives its first stroke under a book."""
    read = RuleReader(book)
    return Cited(value=PlusGivesFrom(read.word("strokes-on-holes.plus_gives_from")), citations=read.citations)


def list_allowances(book: Book) -> tuple[str, ...]:
    """Formats for which a book recommends an allowance."""
    return tuple(row.partition(".")[2] for row in RuleReader(book).rows(FAMILY))


def allowance_for(book: Book, format_: str) -> Cited[Allowance]:
    """The allowance that a book recommends for a format.

    Args:
        book: The handicap book.
        format_: The format, such as ``four-ball``.

    Raises:
        HandicapError: The book names no such format.
    """
    known = list_allowances(book)
    if format_ not in known:
        near = nearest_names(format_, list(known)) or list(known)
        raise HandicapError(f"{book.name} recommends no allowance for {format_!r}.", hint=f"Nearest: {', '.join(near)}.")
    read, row = RuleReader(book), f"{FAMILY}.{format_}"
    shares = [read.share(f"{row}.{part}") for part in _SHARES]
    while len(shares) > 1 and not shares[-1]:
        shares.pop()
    allowance = Allowance(
        name=format_,
        means=book.catalogue.rows[row].means,
        shares=tuple(shares),
        shared=Shared(read.word(f"{row}.shared")),
        takes=Takes(read.word(f"{row}.takes")),
    )
    return Cited(value=allowance, citations=read.citations)
