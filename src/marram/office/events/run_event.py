"""The jobs of an event up to its cards: begin it, enter players, draw them, give them times, take their cards in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from marram.core.errors import CardError, EventError
from marram.core.field_names import Field
from marram.core.words import counted
from marram.events.entry_list import Entry, by_key
from marram.events.event_terms import EventTerms, Starting
from marram.events.group_draw import DrawnBy, GroupDraw, draw_as_listed, make_draw, odd_groups
from marram.events.happened import EventState, Signal
from marram.events.returns import card_key, find_return_faults, is_same_card
from marram.events.starting_list import StartingList, hole_of, set_times
from marram.handicaps.written_handicaps import tell_handicap
from marram.interchange.tables.table_rows import Faults
from marram.interchange.tables.workbooks import Cell
from marram.office.events.decide.later_rounds import draw_after, out_after_of, refuse_round, who_plays
from marram.office.events.kept_event import KeptEvent, KeptTerms, round_key
from marram.office.events.writing_rows import need_reason, write_rows
from marram.rulebook.book import Book
from marram.scoring.cards.card import Card
from marram.store.contents import written
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store

_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_TIME = re.compile(r"([01]?\d|2[0-3])[:.]([0-5]\d)")
_LONGEST_NAME = 60
CARDS_HINT = "See docs/formats/cards.md."


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenTerms:
    """Terms as they were brought in.

    Attributes:
        text: The file, to its last letter.
        file: Its name.
        terms: What it says.
        handicapping: The book of handicapping that it names, or the latest.
    """

    text: str
    file: str
    terms: EventTerms
    handicapping: Book


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What a table did to an event.

    Attributes:
        added: So many are new.
        changed: So many took the place of what stood.
        same: So many stood as they are.
    """

    added: int
    changed: int
    same: int


def name_of(title: str) -> str:
    """The name of an event in its store, made of its title: ``summer-medal``.

    Args:
        title: The title.
    """
    found = re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")[:_LONGEST_NAME].strip("-")
    return found or "event"


def begin_event(store: Store, hand: Hand, name: str, given: GivenTerms, book: tuple[str, Book]) -> None:
    """Begin an event: its terms are kept with the stamps of its books.

    Args:
        store: The store.
        hand: Who does it.
        name: Its name in the store.
        given: The terms.
        book: The book, by the name under which it is opened.

    Raises:
        EventError: The name cannot be used, or there is an event of that name.
    """
    if not _NAME.fullmatch(name) or len(name) > _LONGEST_NAME:
        hint = "Use small letters, digits and hyphens, such as summer-medal."
        raise EventError(f"{name!r} cannot be the name of an event.", field=Field.EVENT, hint=hint)
    if name in store.events():
        raise EventError(f"There is an event {name} already.", where=store.where, field=Field.EVENT, hint="Give another name.")
    store.append(name, hand, [Writing(kind=Kind.TERMS, key="", content=written(_kept(given, book)))], seen=0)


def set_terms(store: Store, hand: Hand, event: KeptEvent, given: GivenTerms, book: tuple[str, Book], reason: str) -> None:
    """Set the terms of an event anew, with the books as they are now; what stood is kept.

    Args:
        store: The store.
        hand: Who does it.
        event: The event, in which a book may have changed.
        given: The terms.
        book: The book, by the name under which it is opened.
        reason: Why.

    Raises:
        EventError: No reason is given, or an entry does not fit the terms.
    """
    need_reason(reason, ["terms stand already"])
    tees, divisions = given.terms.terms.tees, given.terms.division_names
    faults = [f"{entry.player} plays from {entry.tee}" for entry in event.entries if entry.tee not in tees]
    faults += [f"{entry.player} is in {entry.division}" for entry in event.entries if entry.division and entry.division not in divisions]
    if faults:
        told = f"Entries do not fit these terms: {'; '.join(faults[:40])}."
        raise EventError(told, where=given.file, hint="Keep the tees and divisions that entries name.")
    row = Writing(kind=Kind.TERMS, key="", content=written(_kept(given, book)), reason=reason, supersedes=event.number_of(Kind.TERMS))
    write_rows(store, hand, event, [row], seen=event.last)


def _kept(given: GivenTerms, book: tuple[str, Book]) -> KeptTerms:
    return KeptTerms(
        text=given.text,
        file=given.file,
        book=book[0],
        book_stamp=book[1].stamp,
        handicapping=given.terms.terms.handicapping or given.handicapping.name,
        handicapping_stamp=given.handicapping.stamp,
    )


def enter_players(store: Store, hand: Hand, event: KeptEvent, entries: Sequence[Entry], reason: str = "") -> Taken:
    """Enter players, all of them or none.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        entries: The players; one who has entered already may be put right where a reason is given.
        reason: Why what stood is put right; empty where nothing is.

    Raises:
        EventError: A player has entered already with something else, and no reason is given.
    """
    known = by_key(event.entries)
    given = {entry.key: entry for entry in entries}
    other = [entry for key, entry in given.items() if key in known and replace(entry, row=known[key].row) != known[key]]
    need_reason(reason, [f"row {entry.row}: {entry.player} has entered with something else" for entry in other])
    new = [entry for key, entry in given.items() if key not in known]
    writings = [_of_entry(event, entry, reason) for entry in (*other, *new)]
    write_rows(store, hand, event, writings)
    return Taken(added=len(new), changed=len(other), same=len(given) - len(new) - len(other))


def _of_entry(event: KeptEvent, entry: Entry, reason: str) -> Writing:
    before = event.number_of(Kind.ENTRY, entry.key)
    return Writing(kind=Kind.ENTRY, key=entry.key, content=written(entry), reason=reason, supersedes=before)


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawAsked:
    """How a field is to be drawn.

    Attributes:
        by: What decides.
        seed: What chance is worked out from.
        listed: The draw as the Committee lists it, each player with a group; empty where it is drawn.
        size: How many play together; None for what the terms say.
        reason: Why a draw that stands is made anew; empty where none stands.
        round: Number of the round.
    """

    by: DrawnBy
    seed: str
    listed: tuple[tuple[str, str], ...] = ()
    size: int | None = None
    reason: str = ""
    round: int = 1


def draw_field(store: Store, hand: Hand, event: KeptEvent, asked: DrawAsked) -> GroupDraw:
    """Draw the field into groups.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        asked: How.

    Raises:
        EventError: Nobody has entered, the list does not fit, a draw stands and no reason is given, or there is no such round.
    """
    size = asked.size or (event.terms.starting.group_size if event.terms.starting is not None else 3)
    refuse_round(event, asked.round)
    if asked.round in event.draws:
        need_reason(asked.reason, ["a draw stands already"])
    if asked.by is DrawnBy.SCORE:
        found = draw_after(event, asked.round - 1, size)
    elif asked.by is DrawnBy.LIST:
        found = draw_as_listed(who_plays(event, asked.round), asked.listed, size=size)
    else:
        found = make_draw(who_plays(event, asked.round), by=asked.by, size=size, seed=asked.seed)
    _append_one(store, hand, event, Kind.DRAW, found, asked.reason, round_key(asked.round))
    return found


def give_times(store: Store, hand: Hand, event: KeptEvent, starting: Starting | None, reason: str = "", *, number: int = 1) -> StartingList:
    """Give each group its time and its hole.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        starting: How the field starts; None for what the terms say.
        reason: Why times that stand are given anew; empty where none stand.
        number: Number of the round.

    Raises:
        EventError: There is no draw, the terms say nothing of the start, or times stand and no reason is given.
    """
    starting = starting or event.terms.starting
    if starting is None:
        raise EventError(
            "The terms say nothing of the start.", where="terms, start", hint="Write a table [start] with first and interval_min."
        )
    draw = event.draws.get(number)
    if draw is None:
        raise EventError("There is no draw yet.", where=event.name, hint="Draw the field first.")
    playing = who_plays(event, number)
    not_drawn = [entry.player for entry in playing if not any(entry.player in group for group in draw.groups)]
    if not_drawn:
        told = f"{counted(len(not_drawn), 'player')} entered after the draw: {', '.join(not_drawn[:20])}."
        raise EventError(told, where=event.name, hint="Draw the field again, with the reason.")
    if number in event.start_lists:
        need_reason(reason, ["starting times stand already"])
    pars = next(iter(event.terms.terms.tees.values())).par
    found = set_times(draw.groups, starting, pars, is_by_score=draw.by is DrawnBy.SCORE)
    remark = odd_groups(draw, starting.group_size)
    found = replace(found, remarks=(*found.remarks, *([remark] if remark else [])))
    _append_one(store, hand, event, Kind.TIMES, found, reason, round_key(number))
    return found


def take_cards(
    store: Store, hand: Hand, event: KeptEvent, cards: Sequence[Card], where: str, reason: str = "", *, after_closing: str = ""
) -> Taken:
    """Take cards in, all of them or none.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        cards: The cards.
        where: The table that they stood in.
        reason: Why a card that is in is put right; empty where none is.
        after_closing: What is put right after the event was closed; empty before.

    Raises:
        CardError: A card is nobody's, contradicts the entry or the starting list, or is in already with something else and no reason is
            given; every fault is told with its row and column.
    """
    faults = Faults(where=where, error=CardError, hint=CARDS_HINT)
    held = {} if reason else event.cards
    for fault in find_return_faults(cards, by_key(event.entries), event.start_lists, held, out_after_of(event)):
        faults.add(f"row {fault.row}, column {fault.column}", fault.message)
    faults.refuse()
    given = {card_key(card): card for card in cards}
    new = [key for key in given if key not in event.cards]
    other = [key for key, card in given.items() if key in event.cards and not is_same_card(event.cards[key], card)]
    writings = [
        Writing(kind=Kind.CARD, key=key, content=written(given[key]), reason=reason, supersedes=event.number_of(Kind.CARD, key))
        for key in given
        if key in new or key in other
    ]
    write_rows(store, hand, event, writings, after_closing=after_closing)
    return Taken(added=len(new), changed=len(other), same=len(given) - len(new) - len(other))


def signal_of(word: str) -> Signal:
    """How play is suspended, by its word.

    Args:
        word: ``immediate`` or ``normal``.
    """
    return Signal(word)


def state_of(word: str) -> EventState:
    """How far results stand, by its word.

    Args:
        word: ``provisional``, ``final`` or ``closed``.
    """
    return EventState(word)


def minutes_of(text: str) -> int:
    """A time of day in minutes from midnight.

    Args:
        text: The time, such as ``09:30``.

    Raises:
        EventError: It is no time of day.
    """
    found = _TIME.fullmatch(text.strip())
    if found is None:
        raise EventError(f"{text!r} is no time of day.", hint="Give one such as 09:30.")
    return int(found[1]) * 60 + int(found[2])


def drawn_by(word: str) -> DrawnBy:
    """What decides a draw, by its word.

    Args:
        word: ``random``, ``handicap`` or ``list``.
    """
    return DrawnBy(word)


def known_of_players(event: KeptEvent) -> Mapping[str, Mapping[str, Cell]]:
    """What a card need not say, because the entry and the starting list do: cells by player.

    Args:
        event: The event.
    """
    known = {entry.key: dict(_cells(event, entry, 1)) for entry in event.entries}
    later = [number for number in event.start_lists if number > 1]
    return known | {f"{entry.key}|{number}": dict(_cells(event, entry, number)) for number in later for entry in event.entries}


def _cells(event: KeptEvent, entry: Entry, number: int) -> Iterable[tuple[str, Cell]]:
    yield "player", entry.player
    for column in ("side", "tee"):
        if getattr(entry, column):
            yield column, getattr(entry, column)
    if entry.handicap_index is not None:
        yield "handicap_index", tell_handicap(entry.handicap_index, 1)
    if entry.course_handicap is not None:
        yield "course_handicap", _exactly(entry)
    if entry.playing_handicap is not None:
        yield "playing_handicap", tell_handicap(entry.playing_handicap)
    hole = hole_of(event.start_lists.get(number), entry.player)
    if hole is not None:
        yield "start", hole


def _exactly(entry: Entry) -> str:
    """A Course Handicap as it was entered, with as many decimals as it has."""
    assert entry.course_handicap is not None
    decimals = next((count for count in range(10) if (entry.course_handicap * 10**count).denominator == 1), 10)
    return tell_handicap(entry.course_handicap, decimals)


def _append_one(store: Store, hand: Hand, event: KeptEvent, kind: Kind, value: object, reason: str, key: str) -> None:
    """Write what an event, or a round of it, has one of; it rests on all that was read."""
    row = Writing(kind=kind, key=key, content=written(value), reason=reason, supersedes=event.number_of(kind, key))
    write_rows(store, hand, event, [row], seen=event.last)
