"""A match play as an event: draw its bracket, take results of matches in, and see who meets whom."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace

from marram.core.errors import EventError
from marram.core.terms import Form
from marram.core.words import plain_name
from marram.events.event_results import name_in_results, score_event
from marram.events.knockout.match_bracket import (
    BracketDrawn,
    MatchBracket,
    MatchWon,
    find_match,
    follow_bracket,
    later_results,
    match_key,
    read_result,
)
from marram.office.events.kept_event import KeptEvent
from marram.office.events.writing_rows import need_reason, write_rows
from marram.store.contents import read_back, written
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store

BY = ("entry", "handicap", "random", "list")
"""What may give the numbers of a bracket."""


def draw_bracket(
    store: Store, hand: Hand, event: KeptEvent, by: str, seed: str = "", listed: Sequence[str] = (), reason: str = ""
) -> MatchBracket:
    """Draw the bracket by the general numerical draw.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        by: One of ``BY``: what gives the numbers, 1 for the first entry, the lowest handicap, the first by chance or the first listed.
        seed: What chance is worked out from.
        listed: Players or sides by their numbers, with *list*.
        reason: Why a bracket that stands is drawn anew; empty where none stands.

    Raises:
        EventError: No match play, a list that does not fit, too few or too many, or a bracket stands and no reason is given.
    """
    if event.terms.terms.form is not Form.MATCH_PLAY:
        raise EventError("A bracket is drawn for match play.", where=event.name, hint='The terms say form = "match-play".')
    if bracket_of(event) is not None:
        need_reason(reason, ["a bracket stands already"])
    drawn = BracketDrawn(by=by, seed=seed if by == "random" else "", numbered=_numbered(event, by, seed, listed))
    found = follow_bracket(drawn, ())
    row = Writing(kind=Kind.BRACKET, key="", content=written(drawn), reason=reason, supersedes=event.number_of(Kind.BRACKET))
    write_rows(store, hand, event, [row], seen=event.last)
    return found


def _numbered(event: KeptEvent, by: str, seed: str, listed: Sequence[str]) -> tuple[str, ...]:
    names = tuple(dict.fromkeys(name_in_results(event.terms, entry) for entry in event.entries))
    match by:
        case "random":
            return tuple(sorted(names, key=lambda name: hashlib.sha256(f"{seed}\n{plain_name(name)}".encode()).hexdigest()))
        case "handicap":
            return tuple(sorted(names, key=lambda name: _handicap(event, name)))
        case "list":
            return _as_listed(names, listed)
    return names


def _handicap(event: KeptEvent, name: str) -> tuple[bool, object]:
    """The handicaps of a side added up; without one it comes last. Equal ones stay as they entered."""
    own = [entry.handicap for entry in event.entries if name_in_results(event.terms, entry) == name]
    return (any(one is None for one in own), sum(one for one in own if one is not None))


def _as_listed(names: Sequence[str], listed: Sequence[str]) -> tuple[str, ...]:
    known = {plain_name(name): name for name in names}
    keys = [plain_name(name) for name in listed]
    faults = [f"{name} has not entered" for name in listed if plain_name(name) not in known]
    faults += [f"{known[key]} is listed {keys.count(key)} times" for key in dict.fromkeys(keys) if key in known and keys.count(key) > 1]
    faults += [f"{name} is not listed" for key, name in known.items() if key not in keys]
    if faults:
        raise EventError(f"The list cannot be drawn: {'; '.join(faults[:40])}.", hint="List all once, number 1 first.")
    return tuple(known[key] for key in keys)


def bracket_of(event: KeptEvent) -> MatchBracket | None:
    """The bracket as it stands: what was reported, and matches whose cards are in; None where none is drawn.

    Args:
        event: The event.

    Raises:
        CardError: A card of a match cannot be scored.
    """
    row = event.rows.get((Kind.BRACKET.value, ""))
    if row is None:
        return None
    drawn = read_back(row.content, BracketDrawn, f"{event.name}, row {row.number}")
    reported = [
        read_back(row.content, MatchWon, f"{event.name}, row {row.number}") for row in event.rows.values() if row.kind == Kind.MATCH
    ]
    return follow_bracket(drawn, [*_on_cards(event), *reported])


def _on_cards(event: KeptEvent) -> list[MatchWon]:
    """Matches that their cards decide."""
    cards = event.as_ruled()
    if not cards:
        return []
    matches = score_event(event.book, event.handicapping, event.terms, event.entries, cards).results.matches
    return [
        MatchWon(winner=won, loser=lost, told=match.course.told, round=0)
        for match in matches
        if match.course.winner
        for won, lost in [match.sides if match.course.winner > 0 else match.sides[::-1]]
    ]


def log_match(
    store: Store, hand: Hand, event: KeptEvent, winner: str, loser: str, result: str, reason: str = "", *, after_closing: str = ""
) -> MatchWon:
    """Take the result of a match in: the winner goes on.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        winner: Who won.
        loser: Who lost.
        result: The result, such as ``3 & 2``.
        reason: Why a result that stands is put right; empty for a new one.
        after_closing: What is put right after the event was closed; empty before.

    Raises:
        EventError: There is no bracket, the two do not meet, the result cannot be, or one stands and no reason is given.
    """
    bracket = _drawn_bracket(event)
    place = find_match(bracket, winner, loser)
    told = read_result(result, next(iter(event.terms.terms.tees.values())).holes)
    own = {plain_name(name): name for name in place.sides}
    won = MatchWon(winner=own[plain_name(winner)], loser=own[plain_name(loser)], told=told, round=place.round)
    if place.winner:
        need_reason(reason, [f"{place.winner} beat {place.loser} {place.told} already"])
    if place.winner and place.winner != won.winner:
        _refuse_later(event, bracket, place.winner, later_results(bracket, place))
    _write(store, hand, event, won, reason, after_closing)
    return won


def strike_match(store: Store, hand: Hand, event: KeptEvent, one: str, other: str, reason: str, *, after_closing: str = "") -> MatchWon:
    """Take the result of a match back.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        one: One of the two.
        other: The other.
        reason: Why.
        after_closing: What is put right after the event was closed; empty before.

    Raises:
        EventError: No result of theirs was reported, a later match rests on it, or no reason is given.
    """
    bracket = _drawn_bracket(event)
    place = find_match(bracket, one, other)
    if event.number_of(Kind.MATCH, match_key(*place.sides)) is None or not place.winner:
        raise EventError(f"No result of {one} and {other} was reported.", where=event.name, hint="Nothing was written.")
    need_reason(reason, [f"{place.winner} beat {place.loser} {place.told}"])
    _refuse_later(event, bracket, place.winner, later_results(bracket, place))
    struck = replace(MatchWon(winner=place.winner, loser=place.loser, told=place.told, round=place.round), is_struck=True)
    _write(store, hand, event, struck, reason, after_closing)
    return struck


def _refuse_later(event: KeptEvent, bracket: MatchBracket, winner: str, later: Sequence[object]) -> None:
    if later:
        told = f"{winner} has played a match of a later round already."
        raise EventError(told, where=event.name, hint="Take the later result back first, with its reason.")


def _drawn_bracket(event: KeptEvent) -> MatchBracket:
    bracket = bracket_of(event)
    if bracket is None:
        raise EventError("There is no bracket yet.", where=event.name, hint="Draw it first.")
    return bracket


def _write(store: Store, hand: Hand, event: KeptEvent, won: MatchWon, reason: str, after_closing: str) -> None:
    row = Writing(kind=Kind.MATCH, key=won.key, content=written(won), reason=reason, supersedes=event.number_of(Kind.MATCH, won.key))
    write_rows(store, hand, event, [row], seen=event.last, after_closing=after_closing)
