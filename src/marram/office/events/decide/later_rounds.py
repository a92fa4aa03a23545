"""Later rounds of an event: who plays, the cut, and the draw by the scores so far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marram.core.errors import EventError
from marram.core.words import counted
from marram.events.decided.cut_made import CutMade, make_cut
from marram.events.decided.cut_terms import CutTerms, TiesAtTheCut
from marram.events.decided.score_draw import draw_by_score
from marram.events.entry_list import Entry
from marram.events.event_results import EventResults, after_round, name_in_results, score_event
from marram.events.event_terms import EventTerms
from marram.events.group_draw import GroupDraw
from marram.office.events.kept_event import KeptEvent
from marram.office.events.writing_rows import need_reason, write_rows
from marram.scoring.cards.card import Card
from marram.store.contents import written
from marram.store.kept_rows import Hand, Kind, Writing
from marram.store.open_store import Store


def refuse_round(event: KeptEvent, number: int) -> None:
    """Refuse a round that the terms do not have.

    Args:
        event: The event.
        number: Number of the round.

    Raises:
        EventError: There is no such round.
    """
    rounds = event.terms.terms.rounds
    if not 1 <= number <= rounds:
        told = f"There is no round {number}: the terms have {counted(rounds, 'round')}."
        raise EventError(told, where=event.name, hint="Give a round of the event, or set the terms anew.")


def who_plays(event: KeptEvent, number: int) -> tuple[Entry, ...]:
    """Who plays a round: everybody who has entered, is not out and did not miss the cut.

    Args:
        event: The event.
        number: Number of the round.
    """
    if number == 1:
        return tuple(entry for entry in event.entries if entry.key not in event.out or not event.out[entry.key].is_out)
    cut, over = event.terms.terms.counted.out_after, _out_before(event, number)
    return tuple(
        entry for entry in event.entries if entry.key not in over and number <= cut.get(name_in_results(event.terms, entry), number)
    )


def out_after_of(event: KeptEvent) -> dict[str, int]:
    """The last round of each player who missed the cut, by what tells players apart.

    Args:
        event: The event.
    """
    cut = event.terms.terms.counted.out_after
    named = {entry.key: name_in_results(event.terms, entry) for entry in event.entries}
    return {key: cut[name] for key, name in named.items() if name in cut}


def _out_before(event: KeptEvent, number: int) -> set[str]:
    """Players without a result of the rounds before: withdrawn, disqualified, not returned."""
    if not _cards_up_to(event, number - 1):
        return set()
    standing = stand_after(event, number - 1)
    out = {one.name for one in standing.lists[0].ranked if one.placed is None}
    return {entry.key for entry in event.entries if name_in_results(event.terms, entry) in out}


def stand_after(event: KeptEvent, number: int) -> EventResults:
    """The results as they stand after a round.

    Args:
        event: The event.
        number: Number of the round.

    Raises:
        EventError: There is no such round, or no card of it is in.
        CardError: A card cannot be scored.
    """
    refuse_round(event, number)
    cards = _cards_up_to(event, number)
    if not cards:
        raise EventError("No card is in yet.", where=event.name, hint="Take cards in first.")
    return score_event(event.book, event.handicapping, after_round(event.terms, number), event.entries, cards)


def _cards_up_to(event: KeptEvent, number: int) -> tuple[Card, ...]:
    return tuple(card for card in event.as_ruled() if card.round <= number)


def draw_after(event: KeptEvent, number: int, size: int) -> GroupDraw:
    """Draw the next round by the scores after a round, the leaders last.

    Args:
        event: The event.
        number: The round after which scores are taken.
        size: How many play together.

    Raises:
        EventError: It is the first round that is drawn, or a card is not in.
    """
    if number < 1:
        raise EventError("The first round has no scores to be drawn by.", where=event.name, hint="Draw at random, by handicap or by list.")
    _refuse_missing(event, number)
    playing = {name_in_results(event.terms, entry) for entry in who_plays(event, number + 1)}
    ranked = [one for one in stand_after(event, number).lists[0].ranked if one.name in playing]
    members: dict[str, tuple[str, ...]] = {}
    for entry in event.entries:
        name = name_in_results(event.terms, entry)
        members[name] = (*members.get(name, ()), entry.player)
    return draw_by_score(ranked, _returned(event, number), members, size=size)


def _returned(event: KeptEvent, number: int) -> Sequence[str]:
    """Names in the order in which their cards of a round came in."""
    known = {entry.key: name_in_results(event.terms, entry) for entry in event.entries}
    cards = [key for key, card in event.cards.items() if card.round == number]
    return list(dict.fromkeys(known[key.partition("|")[0]] for key in cards if key.partition("|")[0] in known))


def _refuse_missing(event: KeptEvent, number: int) -> None:
    out = [player for player, of in event.still_out() if of <= number]
    if out:
        told = f"{counted(len(out), 'card')} {'is' if len(out) == 1 else 'are'} not in: {', '.join(out[:20])}."
        raise EventError(told, where=event.name, hint="Take them in, or say what became of the players.")


def make_event_cut(store: Store, hand: Hand, event: KeptEvent, terms: CutTerms | None, reason: str = "") -> CutMade:
    """Make the cut, by the rule of the terms.

    Args:
        store: The store.
        hand: Who does it.
        event: The event.
        terms: The rule; None for that of the terms.
        reason: Why a cut that stands is made anew; empty where none stands.

    Raises:
        EventError: There is no rule, a card is not in, or a cut stands and no reason is given.
    """
    rule = terms or event.terms.cut
    if rule is None:
        raise EventError("The terms have no cut.", where="terms, cut", hint="Write a table [cut] with places, or say how many places.")
    refuse_round(event, rule.after_round + 1)
    if event.cut is not None:
        need_reason(reason, ["a cut stands already"])
    before = replace(event, terms=without_cut(event))
    _refuse_missing(before, rule.after_round)
    found = make_cut(rule, stand_after(before, rule.after_round).lists[0].ranked)
    row = Writing(kind=Kind.CUT, key="", content=written(found), reason=reason, supersedes=event.number_of(Kind.CUT))
    write_rows(store, hand, event, [row], seen=event.last)
    return found


def cut_terms(after: int, places: int, ties: str, within: int | None, rule: str) -> CutTerms:
    """The rule of a cut as it is given by hand.

    Args:
        after: After which round it is made.
        places: So many play on.
        ties: ``in`` or ``as-decided``.
        within: Whoever is so near the leader plays on too; None where that is not so.
        rule: The rule in the Committee's own words.
    """
    return CutTerms(after_round=after, places=places, ties=TiesAtTheCut(ties), within=within, rule=rule)


def without_cut(event: KeptEvent) -> EventTerms:
    """The terms as they stand without the cut that was made."""
    terms = event.terms.terms
    return replace(event.terms, terms=replace(terms, counted=replace(terms.counted, out_after={})))
