"""Cards as they are handed out: the strokes that each player receives, hole by hole, before a stroke is played."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from marram.events.entry_list import Entry, division_of
from marram.events.event_terms import EventTerms
from marram.events.happened import blank_card
from marram.events.starting_list import StartingGroup, StartingList
from marram.handicaps.rounding import round_whole
from marram.rulebook.book import Book
from marram.scoring.cards.card import Card
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import ONE_BALL
from marram.scoring.forms.card_score import CardScore, score_card
from marram.scoring.forms.handicap_law import course_figure
from marram.scoring.forms.strokes_received import strokes_received
from marram.scoring.results import scoring_by
from marram.scoring.sides.side import sides_of
from marram.scoring.sides.side_score import Scoring, score_side


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankHole:
    """A hole of a card that is handed out.

    Attributes:
        hole: Its number.
        par: Its par.
        stroke_index: Its stroke index; None where none is stated.
        received: Strokes received on it; below zero where they are given.
        stop_after: Strokes after which a ball that is not holed can gain nothing more; None where every stroke counts.
    """

    hole: int
    par: int
    stroke_index: int | None
    received: int
    stop_after: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankCard:
    """A card that is handed out.

    Attributes:
        names: The player, or the partners of a side that plays one ball.
        side: The side; empty where the player plays alone.
        division: The division; empty where there is none.
        tee: The tee.
        group: The group with its time and hole; None where there is no starting list.
        handicap_index: Handicap Index; None where none is known.
        course_handicap: Course Handicap, whole; None where none is known.
        strokes: Strokes received over the round; None in a gross competition.
        says: How they were worked out; empty in a gross competition.
        holes: The holes.
    """

    names: tuple[str, ...]
    side: str
    division: str
    tee: Tee
    group: StartingGroup | None
    handicap_index: Fraction | None
    course_handicap: int | None
    strokes: int | None
    says: str
    holes: tuple[BlankHole, ...]


def make_cards(
    book: Book, handicapping: Book, terms: EventTerms, entries: Sequence[Entry], starts: StartingList | None, number: int = 1
) -> tuple[BlankCard, ...]:
    """Make out the cards, in the order of the starting list, else of entry.

    Args:
        book: The book.
        handicapping: The book of handicapping.
        terms: The terms.
        entries: Who has entered.
        starts: The starting list; None where there is none.
        number: Number of the round.

    Raises:
        CardError: A handicap cannot be worked out.
    """
    cards = [blank_card(terms, entry, number) for entry in entries]
    by = scoring_by(book, handicapping, terms.terms, cards)
    groups = {player: group for group in (starts.groups if starts is not None else ()) for player in group.players}
    known = {entry.player: entry for entry in entries}
    made = []
    for side in sides_of(terms.terms, cards):
        if terms.terms.sides in ONE_BALL:
            names = tuple(card.player for card in side.cards)
            made.append(_card(by, terms, known, groups, names, score_side(by, side)))
        else:
            made += [_card(by, terms, known, groups, (card.player,), _alone(by, card)) for card in side.cards]
    order = {player: place for place, player in enumerate(groups)}
    return tuple(sorted(made, key=lambda card: order.get(card.names[0], len(order))))


def _alone(by: Scoring, card: Card) -> CardScore:
    strokes = strokes_received(by.book, by.law, by.terms, by.handicaps, card, by.tees)
    return score_card(by.book, by.law, by.terms, card, strokes)


def _card(
    by: Scoring,
    terms: EventTerms,
    known: dict[str, Entry],
    groups: dict[str, StartingGroup],
    names: tuple[str, ...],
    score: CardScore,
) -> BlankCard:
    first = known[names[0]]
    figure = course_figure(by.handicaps, score.card, score.tee) if by.handicaps is not None and len(names) == 1 else None
    indexes = score.tee.stroke_index or (None,) * score.tee.holes
    return BlankCard(
        names=names,
        side=first.side,
        division=division_of(terms, first),
        tee=score.tee,
        group=groups.get(names[0]),
        handicap_index=first.handicap_index if len(names) == 1 else None,
        course_handicap=None if figure is None else round_whole(figure.value),
        strokes=score.strokes.total if by.handicaps is not None else None,
        says=score.strokes.says,
        holes=tuple(
            BlankHole(hole=one.hole, par=one.par, stroke_index=index, received=_received(score, one.hole), stop_after=one.stop_after)
            for one, index in zip(score.holes, indexes, strict=True)
        ),
    )


def _received(score: CardScore, hole: int) -> int:
    return score.strokes.by_hole[hole - 1] if score.strokes.by_hole else 0
