"""Cards as they come in, held against entries and starting times: a card for nobody, another tee, another handicap."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from marram.core.words import plain_name, shortly
from marram.events.entry_list import Entry
from marram.events.starting_list import StartingList, hole_of
from marram.handicaps.written_handicaps import tell_handicap
from marram.scoring.cards.card import Card

_OF_OTHERS = frozenset({"row", "side", "tee", "handicap_index", "course_handicap", "playing_handicap"})


@dataclass(frozen=True, slots=True, kw_only=True)
class ReturnFault:
    """Why a card cannot be taken in.

    Attributes:
        row: Its row in the table.
        column: The column.
        message: What is wrong.
    """

    row: int
    column: str
    message: str


def find_return_faults(
    cards: Sequence[Card],
    entries: Mapping[str, Entry],
    starts: Mapping[int, StartingList],
    held: Mapping[str, Card],
    out_after: Mapping[str, int] | None = None,
) -> Iterator[ReturnFault]:
    """What is wrong with cards that come in.

    Args:
        cards: The cards.
        entries: Who has entered, by what tells players apart.
        starts: The starting lists, by the number of the round.
        held: Cards that are in already, by ``card_key``.
        out_after: The last round of players who missed the cut, by what tells players apart; None where nobody did.
    """
    for card in cards:
        entry = entries.get(plain_name(card.player))
        if entry is None:
            yield ReturnFault(row=card.row, column="player", message=_nobody(card, entries))
            continue
        for column, told in _against_entry(card, entry, starts.get(card.round)):
            yield ReturnFault(row=card.row, column=column, message=told)
        last = (out_after or {}).get(entry.key)
        if last is not None and card.round > last:
            told = f"{entry.player} missed the cut after round {last}, and this card is of round {card.round}"
            yield ReturnFault(row=card.row, column="round", message=told)
        before = held.get(card_key(card))
        if before is not None and not is_same_card(before, card):
            told = f"{card.player} has a card for round {card.round} already, and this one says something else; to put it right, say why"
            yield ReturnFault(row=card.row, column="player", message=told)


def card_key(card: Card) -> str:
    """What tells cards apart: player, round, and the match where there is one."""
    return "|".join([plain_name(card.player), str(card.round), *([plain_name(card.match)] if card.match else [])])


def is_same_card(one: Card, other: Card) -> bool:
    """Whether two cards say the same, wherever in a table they stood."""
    return _own(one) == _own(other)


def _own(card: Card) -> tuple[object, ...]:
    """What a card says itself: not where it stood in a table, and nothing that the entry says."""
    return tuple(getattr(card, name) for name in card.__dataclass_fields__ if name not in _OF_OTHERS)


def _nobody(card: Card, entries: Mapping[str, Entry]) -> str:
    near = get_close_matches(plain_name(card.player), list(entries), n=1, cutoff=0.75)
    hint = f"; is {entries[near[0]].player} meant?" if near else ""
    return f"{shortly(card.player)} has not entered{hint}"


def _against_entry(card: Card, entry: Entry, starts: StartingList | None) -> Iterator[tuple[str, str]]:
    if card.tee != entry.tee:
        yield "tee", f"{entry.player} has entered from {entry.tee}, and the card says {card.tee}"
    for column, decimals in (("handicap_index", 1), ("course_handicap", 0), ("playing_handicap", 0)):
        on_card, entered = getattr(card, column), getattr(entry, column)
        if on_card is not None and entered is not None and on_card != entered:
            told = f"{tell_handicap(on_card, decimals)} stands here, and {tell_handicap(entered, decimals)} was entered"
            yield column, f"{told}; put the entry right first, or leave the cell empty"
        if on_card is not None and entered is None and entry.handicap is not None:
            told = f"{tell_handicap(on_card, decimals)} stands here, and another kind of handicap was entered"
            yield column, f"{told}; put the entry right first, or leave the cell empty"
    hole = hole_of(starts, entry.player)
    if hole is not None and card.start != hole:
        yield "start", f"{entry.player} starts from hole {hole} by the starting list, and the card says {card.start}"
