"""Say which rounds and holes count, and how a tie came out that was decided by play or by lot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from marram.core.errors import EventError
from marram.core.terms import Form
from marram.core.words import plain_name
from marram.events.decided.play_off import PlayOff, refuse_unequal
from marram.events.decided.round_counts import RoundCounts, read_holes
from marram.events.event_results import score_event
from marram.office.events.decide.later_rounds import refuse_round
from marram.office.events.kept_event import KeptEvent
from marram.office.events.writing_rows import need_reason, write_rows
from marram.scoring.competition.terms_of_competition import OverHoles, Step
from marram.store.contents import written
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundAsked:
    """A round to be cut short, as an official says it.

    Attributes:
        round: Number of the round.
        holes: Holes that count, such as ``1-9``; empty where the round is cancelled, or all of it counts after all.
        is_cancelled: Whether it counts for nothing.
        strokes: How strokes received count over the holes that are left, in the words of the terms; None for as the form asks.
        why: Why.
    """

    round: int
    holes: str
    is_cancelled: bool
    strokes: str | None = None
    why: str = ""


def shorten_round(store: Store, hand: Hand, event: KeptEvent, asked: RoundAsked, *, after_closing: str = "") -> RoundCounts:
    """Cut a round short, cancel it, or let all of it count after all; results follow at once.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        asked: What counts, and why.
        after_closing: What is put right after the event was closed; empty before.

    Raises:
        EventError: There is no such round, matches are played, it is not said why, or nothing changes.
        CardError: A card cannot be scored so.
    """
    refuse_round(event, asked.round)
    decided = _read(event, asked)
    if event.terms.terms.form is Form.MATCH_PLAY:
        told = "The holes of a match are not cut short: the match goes on from where it was stopped, or is decided as the players agree."
        raise EventError(told, where=event.name, hint="Let the match be finished, or log how it was decided.")
    need_reason(decided.why, ["it is not said why"])
    before = next((one for one in event.counts if one.round == decided.round), None)
    if (before is None and decided.holes is None) or (before is not None and _same(before, decided)):
        raise EventError(f"That is how round {decided.round} stands already.", where=event.name, hint="Nothing was written.")
    key = str(decided.round)
    row = Writing(kind=Kind.COUNTS, key=key, content=written(decided), reason=decided.why, supersedes=event.number_of(Kind.COUNTS, key))
    write_rows(store, hand, event, [row], seen=event.last, after_closing=after_closing)
    return decided


def _read(event: KeptEvent, asked: RoundAsked) -> RoundCounts:
    holes = next(iter(event.terms.terms.tees.values())).holes
    named = read_holes(asked.holes, holes) if asked.holes else () if asked.is_cancelled else None
    counted = None if named is not None and len(named) == holes else named
    return RoundCounts(round=asked.round, holes=counted, strokes=OverHoles(asked.strokes) if asked.strokes else None, why=asked.why)


def _same(one: RoundCounts, other: RoundCounts) -> bool:
    return (one.holes, one.strokes) == (other.holes, other.strokes)


def log_play_off(
    store: Store,
    hand: Hand,
    event: KeptEvent,
    by: str,
    order: Sequence[str],
    how: str = "",
    reason: str = "",
    *,
    after_closing: str = "",
) -> PlayOff:
    """Log a play-off or a lot among those who are equal: the order that it gave decides.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        by: ``play-off`` or ``lot``.
        order: Those who were equal, in the order that it gave, as they were typed.
        how: How it went, in words.
        reason: Why one among the same is put right; empty for a new one.
        after_closing: What is put right after the event was closed; empty before.

    Returns:
        The play-off with names as they stand in the results.

    Raises:
        EventError: The terms do not know it, those who are named are not equal, or one stands already and no reason is given.
    """
    cards = event.as_ruled()
    if not cards:
        raise EventError("No card is in yet.", where=event.name, hint="Take cards in first.")
    ranked = score_event(event.book, event.handicapping, event.terms, event.entries, cards).lists[0].ranked
    named = PlayOff(step=Step(by), order=tuple(_named(name, [one.name for one in ranked]) for name in order), how=how)
    refuse_unequal(named, event.terms.terms.ties, ranked, event.name)
    before = event.number_of(Kind.PLAY_OFF, named.key)
    if before is not None:
        need_reason(reason, ["a play-off or lot among them stands already"])
    row = Writing(kind=Kind.PLAY_OFF, key=named.key, content=written(named), reason=reason or named.how, supersedes=before)
    write_rows(store, hand, event, [row], seen=event.last, after_closing=after_closing)
    return named


def _named(name: str, names: list[str]) -> str:
    """A name as it stands in the results, however it is written in capitals and spaces."""
    known = {plain_name(one): one for one in names}
    found = known.get(plain_name(name))
    if found is None:
        near = get_close_matches(plain_name(name), list(known), n=1, cutoff=0.75)
        hint = f"Is {known[near[0]]} meant?" if near else "Give the name as it stands in the results."
        raise EventError(f"{name} is not in the results.", where="play-off", hint=hint)
    return found
