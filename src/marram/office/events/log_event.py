"""The day as it goes: players who are out, rulings whose penalties reach the card, delays, and the state of the results."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from difflib import get_close_matches

from marram.core.errors import EventError
from marram.core.words import counted, plain_name
from marram.events.entry_list import Entry, by_key
from marram.events.event_results import score_event
from marram.events.happened import EventState, LoggedRuling, PlayerOut, Signal, Suspension, blank_card
from marram.events.starting_list import StartingList, clock_words, delay_times
from marram.office.event_records.keep_log import timing_row
from marram.office.events.decide.play_bracket import bracket_of
from marram.office.events.kept_event import KeptEvent, round_key
from marram.office.events.writing_rows import need_reason, write_rows
from marram.scoring.cards.card import CardStatus, Penalty
from marram.scoring.forms.charges import Charged
from marram.store.contents import written
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store

_RULING = re.compile(r"R(\d+)")
BECAME = {
    "withdrawn": CardStatus.WITHDRAWN,
    "no-show": CardStatus.DID_NOT_START,
    "no-return": CardStatus.NOT_RETURNED,
    "disqualified": CardStatus.DISQUALIFIED,
    "back": CardStatus.RETURNED,
}
"""What may become of a player, in the official's words; *back* for one who plays on after all."""


def take_out(store: Store, hand: Hand, event: KeptEvent, player: str, became: str, why: str, *, after_closing: str = "") -> None:
    """Log that a player does not start, withdraws, returns no card or is disqualified, or plays on after all.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        player: The player.
        became: One of ``BECAME``.
        why: Why, with its rule where there is one.
        after_closing: What is put right after the event was closed; empty before.

    Raises:
        EventError: The player has not entered, or no reason is given.
    """
    entry = entry_of(event, player)
    need_reason(why, ["it is not said why"])
    out = PlayerOut(player=entry.player, status=BECAME[became], why=why)
    row = Writing(kind=Kind.OUT, key=entry.key, content=written(out), reason=why, supersedes=event.number_of(Kind.OUT, entry.key))
    write_rows(store, hand, event, [row], after_closing=after_closing, disqualifies=out.status is CardStatus.DISQUALIFIED)


@dataclass(frozen=True, slots=True, kw_only=True)
class RulingAsked:
    """A ruling as an official logs it.

    Attributes:
        player: The player.
        says: What happened and what was ruled.
        hole: The hole; None for the round.
        act: The act of the rule data; empty where strokes alone are stated, or nothing is charged.
        facts: Facts of the act that are true.
        strokes: Penalty strokes; None where the act says them, or nothing is charged.
        is_in_score: Whether the player has counted them already.
        round: Number of the round.
        supersedes: The ruling whose place it takes; empty for a new one.
        is_struck: Whether that ruling does not stand any more, and none takes its place.
        reason: Why it takes the place.
        seconds: Seconds from the question to the answer; None where nobody timed it.
    """

    player: str
    says: str
    hole: int | None = None
    act: str = ""
    facts: tuple[str, ...] = ()
    strokes: int | None = None
    is_in_score: bool = False
    round: int = 1
    supersedes: str = ""
    is_struck: bool = False
    reason: str = ""
    seconds: float | None = None


def log_ruling(store: Store, hand: Hand, event: KeptEvent, asked: RulingAsked, *, after_closing: str = "") -> LoggedRuling:
    """Log a ruling of a player; what it costs reaches the card once, by its name, also where the card comes in later.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        asked: The ruling.
        after_closing: What is put right after the event was closed; empty before.

    Returns:
        The ruling with its name.

    Raises:
        EventError: The player has not entered or is out, or there is no ruling to take the place of.
        CardError: The penalty cannot be charged.
    """
    entry = entry_of(event, asked.player)
    before = _ruling_before(event, asked)
    held = event.out.get(entry.key)
    if held is not None and held.is_out and before is None:
        told = f"{entry.player} is out: {held.status.value.replace('-', ' ')}."
        raise EventError(told, where=event.name, hint="Let the player play on first, or leave the ruling out.")
    name = before.id if before is not None else _next_name(event)
    ruling = LoggedRuling(
        id=name, player=entry.player, round=asked.round, says=asked.says, penalty=_penalty(asked, name), is_struck=asked.is_struck
    )
    is_out = _try_on(event, ruling)
    row = Writing(kind=Kind.RULING, key=name, content=written(ruling), reason=asked.reason, supersedes=event.number_of(Kind.RULING, name))
    rows = [row] if asked.seconds is None else [row, timing_row(event, name, asked.hole, asked.seconds, asked.reason)]
    write_rows(store, hand, event, rows, after_closing=after_closing, disqualifies=is_out)
    return ruling


def _penalty(asked: RulingAsked, name: str) -> Penalty | None:
    if not asked.act and asked.strokes is None:
        return None
    facts = frozenset(fact.replace("-", "_") for fact in asked.facts)
    return Penalty(hole=asked.hole, act=asked.act, strokes=asked.strokes, facts=facts, ruling=name, is_in_score=asked.is_in_score)


def _ruling_before(event: KeptEvent, asked: RulingAsked) -> LoggedRuling | None:
    """The ruling whose place another takes; None for a new one."""
    if not asked.supersedes:
        return None
    before = next((ruling for ruling in event.rulings if ruling.id == asked.supersedes), None)
    if before is None:
        known = ", ".join(ruling.id for ruling in event.rulings) or "none"
        raise EventError(f"There is no ruling {asked.supersedes}.", where=event.name, hint=f"There are: {known}.")
    if plain_name(before.player) != plain_name(asked.player):
        raise EventError(f"Ruling {before.id} is of {before.player}.", where=event.name, hint="Name that player.")
    need_reason(asked.reason, [f"ruling {before.id} stands already"])
    return before


def _next_name(event: KeptEvent) -> str:
    """A name that neither a logged ruling nor one on a card has."""
    used = [ruling.id for ruling in event.rulings]
    used += [penalty.ruling for card in event.cards.values() for penalty in card.penalties]
    numbers = [int(found[1]) for name in used if (found := _RULING.fullmatch(name))]
    return f"R{max(numbers, default=0) + 1}"


def _try_on(event: KeptEvent, ruling: LoggedRuling) -> bool:
    """See that the ruling can be charged, on the player's card or on a blank one, before it is written; whether it disqualifies."""
    others = tuple(one for one in event.rulings if one.id != ruling.id)
    entry = entry_of(event, ruling.player)
    tried = replace(event, rulings=(*others, ruling), entries=(entry,))
    own = tuple(card for card in tried.cards.values() if plain_name(card.player) == entry.key and card.round == ruling.round)
    cards = own or (blank_card(event.terms, entry, ruling.round),)
    found = score_event(event.book, event.handicapping, event.terms, (entry,), tried.as_ruled(cards))
    charged = (charge for ranked in found.results.ranked for charge in ranked.charges if charge.ruling == ruling.id)
    return any(charge.charged is Charged.DISQUALIFIED for charge in charged)


def entry_of(event: KeptEvent, player: str) -> Entry:
    """The entry of a player, however the name is written in capitals and spaces.

    Args:
        event: The event.
        player: The player.

    Raises:
        EventError: The player has not entered.
    """
    known = by_key(event.entries)
    found = known.get(plain_name(player))
    if found is None:
        near = get_close_matches(plain_name(player), list(known), n=1, cutoff=0.75)
        hint = f"Is {known[near[0]].player} meant?" if near else "Give the name as it was entered."
        raise EventError(f"{player} has not entered.", where=event.name, hint=hint)
    return found


def delay_event(store: Store, hand: Hand, event: KeptEvent, minutes: int, from_min: int, reason: str) -> StartingList:
    """Delay every starting time of the round that is on from a time of day on.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        minutes: By how much.
        from_min: From which time on, in minutes from midnight.
        reason: Why.

    Raises:
        EventError: There are no starting times, none is as late, or no reason is given.
    """
    number, starts = event.last_starts
    if starts is None:
        raise EventError("There are no starting times yet.", where=event.name, hint="Give times first.")
    need_reason(reason, ["starting times stand already"])
    found = delay_times(starts, minutes, from_min)
    key = round_key(number)
    row = Writing(kind=Kind.TIMES, key=key, content=written(found), reason=reason, supersedes=event.number_of(Kind.TIMES, key))
    write_rows(store, hand, event, [row], seen=event.last)
    return found


def suspend_play(store: Store, hand: Hand, event: KeptEvent, signal: Signal, from_min: int, why: str) -> Suspension:
    """Log that play is suspended.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        signal: Whether play stops at once.
        from_min: Since when, in minutes from midnight.
        why: Why.

    Raises:
        EventError: Play is suspended already, or it is not said why.
    """
    before = event.suspension
    if before is not None and before.until_min is None:
        raise EventError("Play is suspended already.", where=event.name, hint="Let it go on first.")
    need_reason(why, ["it is not said why"])
    found = Suspension(signal=signal, from_min=from_min, until_min=None, why=why)
    write_rows(store, hand, event, [_of_play(event, found, why)], seen=event.last)
    return found


def resume_play(store: Store, hand: Hand, event: KeptEvent, until_min: int) -> Suspension:
    """Log that play goes on; groups that had not started yet start as much later as it was stopped.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        until_min: When it goes on, in minutes from midnight.

    Raises:
        EventError: Play is not suspended, or it would go on before it was stopped.
    """
    before = event.suspension
    if before is None or before.until_min is not None:
        raise EventError("Play is not suspended.", where=event.name, hint="Nothing was written.")
    if until_min <= before.from_min:
        told = (
            f"Play was suspended at {clock_words(before.from_min)} and cannot go on at {clock_words(until_min)}: the clock runs backwards."
        )
        raise EventError(told, where=event.name, hint="Give a later time.")
    found = replace(before, until_min=until_min)
    number, starts = event.last_starts
    rows = [_of_play(event, found, "")]
    if starts is not None and any(group.start_min >= before.from_min for group in starts.groups):
        later, key = delay_times(starts, until_min - before.from_min, before.from_min), round_key(number)
        reason = f"play was suspended from {clock_words(before.from_min)} to {clock_words(until_min)}"
        rows.append(Writing(kind=Kind.TIMES, key=key, content=written(later), reason=reason, supersedes=event.number_of(Kind.TIMES, key)))
    write_rows(store, hand, event, rows, seen=event.last)
    return found


def _of_play(event: KeptEvent, found: Suspension, why: str) -> Writing:
    return Writing(kind=Kind.PLAY, key="", content=written(found), reason=why, supersedes=event.number_of(Kind.PLAY))


def set_state(store: Store, hand: Hand, event: KeptEvent, state: EventState, reason: str = "") -> None:
    """Say how far the results stand: provisional, final, or closed.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        state: The state.
        reason: Why a state goes back; empty where it goes on.

    Raises:
        EventError: A card is not in, the state is that already, or it goes back without a reason.
    """
    order = list(EventState)
    if state is event.state:
        raise EventError(f"The results are {state.value} already.", where=event.name, hint="Nothing was written.")
    out = event.still_out()
    if state is not EventState.PROVISIONAL and out:
        told = f"{counted(len(out), 'card')} {'is' if len(out) == 1 else 'are'} not in: {', '.join(player for player, _ in out[:20])}."
        raise EventError(told, where=event.name, hint="Take them in, or say what became of the players.")
    if state is not EventState.PROVISIONAL and event.undecided:
        raise EventError(event.undecided[0], where=event.name, hint="Decide it first.")
    bracket = bracket_of(event)
    if state is not EventState.PROVISIONAL and bracket is not None and not bracket.winner:
        raise EventError("The bracket has no winner yet.", where=event.name, hint="Take the results of its matches in.")
    if order.index(state) < order.index(event.state):
        need_reason(reason, [f"the results are {event.state.value} already"])
    row = Writing(kind=Kind.STATE, key="", content=written(state.value), reason=reason, supersedes=event.number_of(Kind.STATE))
    store.append(event.name, hand, [row], seen=event.last)
