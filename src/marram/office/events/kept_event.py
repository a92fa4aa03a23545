"""An event as its store holds it: what stands today, opened with the books that it began under."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TypeVar

from marram.core.errors import CardError, EventError, StoreError
from marram.events.decided.as_decided import terms_as_decided
from marram.events.decided.cut_made import CutMade
from marram.events.decided.kept_balls import KeptBalls, with_kept_balls
from marram.events.decided.marker_named import MarkerNamed
from marram.events.decided.play_off import PlayOff
from marram.events.decided.round_counts import RoundCounts
from marram.events.entry_list import Entry
from marram.events.event_results import cards_not_in, score_event
from marram.events.event_terms import EventTerms
from marram.events.group_draw import GroupDraw
from marram.events.happened import EventState, LoggedRuling, PlayerOut, Suspension, cards_as_ruled
from marram.events.starting_list import StartingList
from marram.events.trial_standing import TrialStanding, standing_of
from marram.interchange.cards.event_terms_file import HINT, read_terms_text
from marram.interchange.tables.table_rows import Faults
from marram.rulebook.book import Book
from marram.scoring.cards.card import Card
from marram.store.contents import read_back
from marram.store.kept_rows import KeptRow, Kind, short_stamp
from marram.store.open_store import Store, standing
from marram.store.verify import refuse_altered

T = TypeVar("T")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptTerms:
    """The terms as they are kept.

    Attributes:
        text: The file of the terms, to its last letter.
        file: Its name.
        book: The book, by which name it is opened.
        book_stamp: Its stamp when the event began.
        handicapping: The book of handicapping.
        handicapping_stamp: Its stamp when the event began.
    """

    text: str
    file: str
    book: str
    book_stamp: str
    handicapping: str
    handicapping_stamp: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptEvent:
    """An event.

    Attributes:
        name: Its name in the store.
        terms: Its terms.
        kept: The same as they are kept.
        book: The book.
        base: Its edition with nothing laid over it.
        handicapping: The book of handicapping.
        entries: Who has entered, in the order of entry.
        draws: The draws, by the number of the round.
        start_lists: The starting lists, by the number of the round.
        cards: The cards that are in, by what tells them apart, as they came in.
        out: Players of whom it is logged that they are out, or play on after all, by what tells them apart.
        rulings: The rulings that are logged, in their order.
        suspension: The last suspension of play; None where there was none.
        state: How far the results stand.
        counts: What was decided of rounds cut short or cancelled, in the order of the rounds.
        cut: The cut; None where none was made.
        play_offs: The play-offs and lots that were held.
        balls: Holes that were played out with two balls.
        markers: Markers that were named, or are missing.
        rows: The rows that stand, by what they are about.
        last: Number of its last row.
        stamp: Stamp of its last row, as it is printed.
    """

    name: str
    terms: EventTerms
    kept: KeptTerms
    book: Book
    base: Book
    handicapping: Book
    entries: tuple[Entry, ...]
    draws: Mapping[int, GroupDraw]
    start_lists: Mapping[int, StartingList]
    cards: Mapping[str, Card]
    out: Mapping[str, PlayerOut]
    rulings: tuple[LoggedRuling, ...]
    suspension: Suspension | None
    state: EventState
    counts: tuple[RoundCounts, ...]
    cut: CutMade | None
    play_offs: tuple[PlayOff, ...]
    balls: tuple[KeptBalls, ...]
    markers: tuple[MarkerNamed, ...]
    rows: Mapping[tuple[str, str], KeptRow]
    last: int
    stamp: str

    @property
    def draw(self) -> GroupDraw | None:
        """The draw of the first round; None where there is none."""
        return self.draws.get(1)

    @property
    def starts(self) -> StartingList | None:
        """The starting list of the first round; None where there is none."""
        return self.start_lists.get(1)

    @property
    def last_starts(self) -> tuple[int, StartingList | None]:
        """The last round that has a starting list, with that list; the first round without one where none has."""
        number = max(self.start_lists, default=1)
        return number, self.start_lists.get(number)

    @property
    def title(self) -> str:
        """Title of the competition."""
        return self.terms.terms.title

    @property
    def under(self) -> TrialStanding:
        """What it is played under."""
        return standing_of(self.book, self.base)

    def as_ruled(self, cards: Sequence[Card] | None = None) -> tuple[Card, ...]:
        """The cards with what was logged: rulings, and what became of players who are out.

        Args:
            cards: The cards; None for those that are in.
        """
        given = tuple(self.cards.values()) if cards is None else cards
        known = [with_kept_balls(card, self.balls) for card in given]
        return cards_as_ruled(self.terms, self.entries, known, self.out, self.rulings)

    @property
    def undecided(self) -> tuple[str, ...]:
        """What the Committee has still to decide, in sentences: which of two balls counts, who marks a card."""
        balls = (kept.says for kept in self.balls if kept.decided is None)
        return (*balls, *(named.says for named in self.markers if not named.marker))

    def still_out(self) -> tuple[tuple[str, int], ...]:
        """Players of whom a card is still to come, with the round; of a bracket none, since matches are awaited there."""
        if (Kind.BRACKET.value, "") in self.rows:
            return ()
        cards = self.as_ruled()
        if self.terms.terms.rounds > 1 and cards:  # who has no result in one round is not awaited in the next
            return score_event(self.book, self.handicapping, self.terms, self.entries, cards).not_in
        return tuple(cards_not_in(self.terms, self.entries, cards))

    def number_of(self, kind: Kind, key: str = "") -> int | None:
        """Number of the row that stands for something; None where none does.

        Args:
            kind: What it is about.
            key: Whose or which it is.
        """
        row = self.rows.get((kind.value, key))
        return None if row is None else row.number


def choose_event(store: Store, asked: str) -> str:
    """The event that is meant: the one that is named, or the only one.

    Args:
        store: The store.
        asked: Its name; empty where none is given.

    Raises:
        EventError: There is none of that name, or several and none is named.
    """
    names = store.events()
    if asked in names:
        return asked
    listed = ", ".join(names[:20]) or "none"
    if asked:
        near = get_close_matches(asked, names, n=1)
        raise EventError(
            f"There is no event {asked!r}.", where=store.where, hint=f"Is {near[0]} meant?" if near else f"There are: {listed}."
        )
    if len(names) != 1:
        told = "The store holds several events." if names else "The store holds no event."
        raise EventError(told, where=store.where, hint=f"Name one of them: {listed}." if names else "`new_event()` begins one.")
    return names[0]


def open_event(
    store: Store, name: str, book: Callable[[str], Book], handicapping: Callable[[str], Book], *, is_strict: bool = True
) -> KeptEvent:
    """Open an event as it stands.

    Args:
        store: The store.
        name: The event.
        book: Opens a book by name.
        handicapping: Opens a book of handicapping by name.
        is_strict: Whether it is refused where a book has changed; only terms that are set anew may look past that.

    Raises:
        EventError: A book has changed since the event began.
        StoreError: The store cannot be read, or its rows were altered.
    """
    rows = store.every_row(name)
    refuse_altered(rows, store.where)
    stands = {(row.kind, row.key): row for row in standing(rows)}
    if (Kind.TERMS.value, "") not in stands:
        raise StoreError("The event has no terms.", where=store.where, hint="See what `verify_store()` finds, and restore a backup.")
    kept = read_back(stands[Kind.TERMS.value, ""].content, KeptTerms, f"{name}, row 1")
    opened, of_handicaps = book(kept.book), handicapping(kept.handicapping)
    if is_strict:
        _refuse_changed(kept.book, kept.book_stamp, opened)
        _refuse_changed(kept.handicapping, kept.handicapping_stamp, of_handicaps)
    counts = sorted((_value(row, RoundCounts) for row in stands.values() if row.kind == Kind.COUNTS), key=lambda one: one.round)
    play_offs = tuple(_value(row, PlayOff) for row in stands.values() if row.kind == Kind.PLAY_OFF)
    cut = _one(stands, Kind.CUT, CutMade)
    return KeptEvent(
        name=name,
        terms=terms_as_decided(_terms(kept), counts, cut, play_offs),
        kept=kept,
        book=opened,
        base=book(opened.edition),
        handicapping=of_handicaps,
        entries=_each(stands, Kind.ENTRY, Entry),
        draws=_by_round(stands, Kind.DRAW, GroupDraw),
        start_lists=_by_round(stands, Kind.TIMES, StartingList),
        cards={row.key: _value(row, Card) for row in stands.values() if row.kind == Kind.CARD},
        out={row.key: _value(row, PlayerOut) for row in stands.values() if row.kind == Kind.OUT},
        rulings=tuple(_value(row, LoggedRuling) for row in stands.values() if row.kind == Kind.RULING),
        suspension=_one(stands, Kind.PLAY, Suspension),
        state=_one(stands, Kind.STATE, EventState) or EventState.PROVISIONAL,
        counts=tuple(counts),
        cut=cut,
        play_offs=play_offs,
        balls=tuple(_value(row, KeptBalls) for row in stands.values() if row.kind == Kind.BALLS),
        markers=tuple(_value(row, MarkerNamed) for row in stands.values() if row.kind == Kind.MARKER),
        rows=stands,
        last=len(rows),
        stamp=short_stamp(rows[-1].stamp),
    )


def _refuse_changed(name: str, then: str, now: Book) -> None:
    if now.stamp != then:
        told = f"The book {name} has changed since the event began: its stamp was {then} and is {now.stamp}."
        hint = "Put the files of its overlays back as they were, or say why the event goes on under the book as it is now: `set_terms()`."
        raise EventError(told, where=name, hint=hint)


def _terms(kept: KeptTerms) -> EventTerms:
    faults = Faults(where=kept.file, error=CardError, hint=HINT)
    terms = read_terms_text(kept.text, kept.file, faults)
    faults.refuse()
    assert terms is not None, "terms without a fault"
    return terms


def _each(stands: Mapping[tuple[str, str], KeptRow], kind: Kind, of: type[Entry]) -> tuple[Entry, ...]:
    return tuple(_value(row, of) for row in stands.values() if row.kind == kind)


def round_key(number: int) -> str:
    """What tells the draws and starting lists of several rounds apart; empty for the first.

    Args:
        number: Number of the round.
    """
    return "" if number == 1 else str(number)


def _by_round(stands: Mapping[tuple[str, str], KeptRow], kind: Kind, of: type[T]) -> Mapping[int, T]:
    return {int(row.key or 1): _value(row, of) for row in stands.values() if row.kind == kind}


def _one(stands: Mapping[tuple[str, str], KeptRow], kind: Kind, of: type[T]) -> T | None:
    row = stands.get((kind.value, ""))
    return None if row is None else _value(row, of)


def _value(row: KeptRow, of: type[T]) -> T:
    return read_back(row.content, of, f"{row.event}, row {row.number}")
