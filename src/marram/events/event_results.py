"""Results of an event: places of the whole field and of each division, gross and net, and who is in none of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from marram.core.terms import Form
from marram.core.words import plain_name
from marram.events.entry_list import Entry, by_key, division_of
from marram.events.event_terms import EventTerms
from marram.events.team_places import BestOf, PlayerScore, TeamPlace, place_teams
from marram.rulebook.book import Book
from marram.rulebook.form_of_play_words import Counts
from marram.scoring.cards.card import Card, CardStatus
from marram.scoring.competition.terms_of_competition import ONE_BALL
from marram.scoring.forms.form_law import FormLaw, read_form
from marram.scoring.ranked import Ranked, Results
from marram.scoring.results import rank, score_competition
from marram.scoring.sides.side import ALONE


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceList:
    """Places of the whole field or of a division, gross or net.

    Attributes:
        division: The division; empty for the whole field.
        is_net: Whether handicap strokes are taken off.
        ranked: Players or sides, the first place first; those without a result last.
    """

    division: str
    is_net: bool
    ranked: tuple[Ranked, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EventResults:
    """Results of an event.

    Attributes:
        results: The whole competition, as the cards by themselves give it.
        lists: The lists of places, that of the whole field in the scores of the terms first.
        not_in: Players whose card is not in, each with the round.
        not_started: Players who did not start.
        teams: Places of teams; none where the terms have none.
    """

    results: Results
    lists: tuple[PlaceList, ...]
    not_in: tuple[tuple[str, int], ...]
    not_started: tuple[str, ...]
    teams: tuple[TeamPlace, ...] = ()


def score_event(book: Book, handicapping: Book, terms: EventTerms, entries: Sequence[Entry], cards: Sequence[Card]) -> EventResults:
    """Score what is in, and say what is not.

    Args:
        book: The book.
        handicapping: The book of handicapping.
        terms: The terms.
        entries: Who has entered.
        cards: The cards that are in.

    Raises:
        CardError: A card cannot be scored.
    """
    tees = [entry.tee for entry in entries]
    results = score_competition(book, handicapping, terms.terms, cards, tees)
    lists = [PlaceList(division="", is_net=terms.terms.is_net, ranked=results.ranked)]
    if not results.why_none and terms.terms.form is not Form.MATCH_PLAY:
        lists += _others(book, handicapping, terms, entries, cards, results)
    return EventResults(
        results=results,
        lists=tuple(lists),
        not_in=tuple(_awaited(terms, entries, cards, results)),
        not_started=tuple(card.player for card in cards if card.status is CardStatus.DID_NOT_START),
        teams=_teams(read_form(book, terms.terms.form), terms, entries, results) if terms.team is not None and not results.why_none else (),
    )


def after_round(terms: EventTerms, number: int) -> EventTerms:
    """The terms as if an event were over after a round: what stands then.

    Args:
        terms: The terms.
        number: Number of the round.
    """
    return replace(terms, terms=replace(terms.terms, rounds=number))


def _teams(law: FormLaw, terms: EventTerms, entries: Sequence[Entry], results: Results) -> tuple[TeamPlace, ...]:
    """Places of teams: the scores of every round that has one, also of players who have none for the whole event."""
    assert terms.team is not None
    of_event = terms.team.each is BestOf.EVENT
    scored = {one.name: one for one in results.ranked}
    found: dict[str, list[PlayerScore]] = {entry.team: [] for entry in entries if entry.team}
    for entry in entries:
        own = scored.get(entry.player)
        if own is None or not entry.team:
            continue
        if of_event and own.total is not None:
            found[entry.team].append(PlayerScore(player=entry.player, round=0, score=own.total))
        if not of_event:
            in_rounds = [one for one in own.rounds if one.total is not None]
            found[entry.team] += [PlayerScore(player=entry.player, round=one.card.round, score=one.total or 0) for one in in_rounds]
    rounds = [number for number in range(1, terms.terms.rounds + 1) if not terms.terms.counted.is_cancelled(number)]
    return place_teams(terms.team, found, rounds, is_more_better=law.counts is not Counts.STROKES)


def _awaited(terms: EventTerms, entries: Sequence[Entry], cards: Sequence[Card], results: Results) -> Iterator[tuple[str, int]]:
    """Cards that are still to come: none of a later round from those who have no result in an earlier one."""
    out = {one.name: min((round_.card.round for round_ in one.rounds if round_.total is None), default=None) for one in results.ranked}
    named = {entry.player: name_in_results(terms, entry) for entry in entries}
    for player, number in cards_not_in(terms, entries, cards):
        since = out.get(named[player])
        if since is None or number < since:
            yield player, number


def cards_not_in(terms: EventTerms, entries: Sequence[Entry], cards: Sequence[Card]) -> list[tuple[str, int]]:
    """Players or sides of whom a card is still to come, with the round.

    Args:
        terms: The terms.
        entries: Who has entered.
        cards: The cards that are in.
    """
    returned = {(plain_name(card.player), card.round) for card in cards}
    over = {plain_name(card.player) for card in cards if card.status is not CardStatus.RETURNED}
    one_ball = terms.terms.sides in ONE_BALL
    of_sides = {(card.side, card.round) for card in cards if one_ball and card.side}
    counted, rounds = terms.terms.counted, range(1, terms.terms.rounds + 1)
    return [
        (entry.player, number)
        for entry in entries
        if entry.key not in over
        for number in rounds
        if (entry.key, number) not in returned and (entry.side, number) not in of_sides
        if not counted.is_cancelled(number) and number <= counted.out_after.get(name_in_results(terms, entry), number)
    ]


def name_in_results(terms: EventTerms, entry: Entry) -> str:
    """Under which name a player stands in the results: the own one, or that of the side.

    Args:
        terms: The terms.
        entry: The entry.
    """
    return entry.player if terms.terms.sides in ALONE or not entry.side else entry.side


def _others(
    book: Book, handicapping: Book, terms: EventTerms, entries: Sequence[Entry], cards: Sequence[Card], results: Results
) -> list[PlaceList]:
    """Gross beside net, and each division in both: the strokes of the whole competition, compared among fewer."""
    by_scores = {terms.terms.is_net: results}
    if terms.terms.is_net:
        by_scores[False] = score_competition(book, handicapping, replace(terms.terms, is_net=False), cards)
    divisions = _divisions(terms, entries, cards)
    found = [PlaceList(division="", is_net=is_net, ranked=one.ranked) for is_net, one in by_scores.items() if is_net != terms.terms.is_net]
    law = read_form(book, terms.terms.form)
    for division in terms.divisions:
        for is_net, one in by_scores.items():
            scored = {ranked.name: ranked.rounds for ranked in one.ranked if divisions.get(ranked.name) == division.name}
            placed = rank(book, law, replace(terms.terms, is_net=is_net), scored)
            found.append(PlaceList(division=division.name, is_net=is_net, ranked=placed.ranked))
    return found


def _divisions(terms: EventTerms, entries: Sequence[Entry], cards: Sequence[Card]) -> Mapping[str, str]:
    """The division of each player, and of each side by the first of its partners."""
    known = by_key(entries)
    found: dict[str, str] = {}
    for card in cards:
        entry = known.get(plain_name(card.player))
        if entry is not None:
            found.setdefault(name_in_results(terms, entry), division_of(terms, entry))
    return found
