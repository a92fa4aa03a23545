"""What happens to an event besides its cards: players who do not start or withdraw, rulings, delays, suspension, and its state."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from marram.core.words import plain_name
from marram.events.entry_list import Entry, by_key
from marram.events.event_terms import EventTerms
from marram.events.starting_list import clock_words
from marram.scoring.cards.card import Card, CardStatus, HoleEntry, Penalty
from marram.scoring.competition.terms_of_competition import ONE_BALL


class EventState(StrEnum):
    """How far the results stand."""

    PROVISIONAL = "provisional"
    FINAL = "final"
    CLOSED = "closed"


class Signal(StrEnum):
    """How play is suspended."""

    IMMEDIATE = "immediate"
    NORMAL = "normal"


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspension:
    """Play as it was suspended, and went on.

    Attributes:
        signal: Whether play stops at once.
        from_min: Since when, in minutes from midnight.
        until_min: When it went on; None while it is suspended.
        why: Why.
    """

    signal: Signal
    from_min: int
    until_min: int | None
    why: str

    @property
    def says(self) -> str:
        """The same in words."""
        stop = "stop at once" if self.signal is Signal.IMMEDIATE else "players may finish the hole"
        if self.until_min is None:
            return f"Play is suspended since {clock_words(self.from_min)}: {self.why}. The signal was {self.signal.value}: {stop}."
        return f"Play was suspended from {clock_words(self.from_min)} to {clock_words(self.until_min)}: {self.why}."


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayerOut:
    """A player who plays no more, or not at all.

    Attributes:
        player: The name.
        status: What became of the player; returned for one who plays on after all.
        why: Why, with its rule where there is one.
    """

    player: str
    status: CardStatus
    why: str

    @property
    def is_out(self) -> bool:
        """Whether the player is out."""
        return self.status is not CardStatus.RETURNED


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedRuling:
    """A ruling that is logged of a player.

    Attributes:
        id: Its name, such as ``R3``.
        player: The player.
        round: Number of the round.
        says: What happened and what was ruled, in the official's words.
        penalty: What it costs by the act of the rule data or in strokes; None where there is no penalty.
        is_struck: Whether it does not stand any more.
    """

    id: str
    player: str
    round: int = 1
    says: str = ""
    penalty: Penalty | None = None
    is_struck: bool = False


def cards_as_ruled(
    terms: EventTerms, entries: Sequence[Entry], cards: Iterable[Card], out: Mapping[str, PlayerOut], rulings: Iterable[LoggedRuling]
) -> tuple[Card, ...]:
    """The cards with what was logged: each penalty once, by its ruling, and what became of players who are out.

    Of a side that plays one ball the partners whose row did not come in have a blank one, since the handicap is of all of them.
    Side, tee and handicap are those of the entry as it stands now, since no card comes in that says otherwise.
    A ruling of which the card says something itself is charged as it was logged, and not twice. A player who is out has a card even where
    none is in.

    Args:
        terms: The terms.
        entries: Who has entered.
        cards: The cards that are in.
        out: Players who are out, by what tells them apart.
        rulings: The rulings that are logged.
    """
    logged: dict[tuple[str, int], list[LoggedRuling]] = {}
    for ruling in rulings:
        logged.setdefault((plain_name(ruling.player), ruling.round), []).append(ruling)
    known = by_key(entries)
    entered = [_as_entered(card, known.get(plain_name(card.player))) for card in cards]
    found = [_ruled(card, logged.get((plain_name(card.player), card.round), ())) for card in entered]
    found += _partners(terms, entries, found)
    held = {plain_name(card.player) for card in found}
    found = [_out(card, out.get(plain_name(card.player))) for card in found]
    for entry in entries:
        if entry.key in out and out[entry.key].is_out and entry.key not in held:
            found.append(_out(blank_card(terms, entry, 1), out[entry.key]))
    return tuple(found)


def blank_card(terms: EventTerms, entry: Entry, number: int) -> Card:
    """The card of a player before it comes in.

    Args:
        terms: The terms.
        entry: The player.
        number: Number of the round.
    """
    blank = tuple(HoleEntry() for _ in range(terms.terms.tee_of(entry.tee).holes))
    return replace(entry.as_card(), entries=blank, round=number)


def _partners(terms: EventTerms, entries: Sequence[Entry], cards: Sequence[Card]) -> list[Card]:
    """Blank cards of partners whose side has one that plays one ball."""
    if terms.terms.sides not in ONE_BALL:
        return []
    held = {(plain_name(card.player), card.round) for card in cards}
    sides = dict.fromkeys((card.side, card.round) for card in cards if card.side)
    waiting = [(entry, number) for side, number in sides for entry in entries if entry.side == side and (entry.key, number) not in held]
    return [blank_card(terms, entry, number) for entry, number in waiting]


def _as_entered(card: Card, entry: Entry | None) -> Card:
    """A card with side, tee and handicap as they are entered now: an entry that was put right moves the score."""
    if entry is None:
        return card
    card = replace(card, side=entry.side or card.side, tee=entry.tee or card.tee)
    if entry.handicap is None:
        return card
    return replace(
        card, handicap_index=entry.handicap_index, course_handicap=entry.course_handicap, playing_handicap=entry.playing_handicap
    )


def _ruled(card: Card, rulings: Iterable[LoggedRuling]) -> Card:
    known = list(rulings)
    ids = {ruling.id for ruling in known}
    own = tuple(penalty for penalty in card.penalties if penalty.ruling not in ids)
    charged = tuple(ruling.penalty for ruling in known if ruling.penalty is not None and not ruling.is_struck)
    return replace(card, penalties=(*own, *charged))


def _out(card: Card, player: PlayerOut | None) -> Card:
    if player is None or not player.is_out:
        return card
    shown = player.status.value.replace("-", " ")
    return replace(card, status=player.status, why=f"{shown}: {player.why}" if player.why else shown)
