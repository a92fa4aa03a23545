"""The law of handicaps in a competition: how an Index becomes strokes, and which share of them the format plays off."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Citation, merged
from marram.core.errors import CardError
from marram.core.terms import Form
from marram.handicaps.course_handicap import course_handicap, course_handicap_for_nine
from marram.handicaps.playing_handicap import taken_from
from marram.handicaps.rounding import Figure, round_half_up
from marram.handicaps.rules.course_rules import CourseHandicapRules, course_handicap_rules
from marram.handicaps.rules.playing_rules import PlayingHandicapRules, allowance_for, list_allowances, playing_handicap_rules
from marram.handicaps.tees import Tee as RatedTee
from marram.handicaps.written_handicaps import tell_handicap
from marram.rulebook.book import Book
from marram.scoring.cards.card import Card
from marram.scoring.cards.tee import Tee
from marram.scoring.competition.terms_of_competition import Sides, Terms

_NINE = 9
_OF_SIDES = {
    Sides.FOUR_BALL: "four-ball",
    Sides.FOURSOMES: "foursomes",
    Sides.GREENSOMES: "greensomes",
    Sides.BOTH_DRIVE_AND_SWAP: "chapman",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class HandicapLaw:
    """How handicaps are played off in a competition.

    Attributes:
        course: How an Index becomes a Course Handicap.
        playing: How that becomes a Playing Handicap.
        shares: Share of each player of a side, the lowest handicap first; one share where each player plays off his own.
        citations: The rules.
    """

    course: CourseHandicapRules
    playing: PlayingHandicapRules
    shares: tuple[Fraction, ...]
    citations: tuple[Citation, ...]


def read_handicap_law(handicapping: Book, terms: Terms, players: int = 1) -> HandicapLaw:
    """Read how handicaps are played off: the allowance of the terms, or the one that is recommended for the format.

    Args:
        handicapping: The book of handicapping.
        terms: The terms of the competition.
        players: So many players are on a side.

    Raises:
        CardError: The terms state no allowance, and none is recommended for the format.
    """
    holes = next(iter(terms.tees.values())).holes
    course, playing = course_handicap_rules(handicapping, for_nine=holes == _NINE), playing_handicap_rules(handicapping)
    shares, by = terms.allowances, tuple[Citation, ...]()
    if not shares:
        name = format_name(terms, players)
        if name not in list_allowances(handicapping):
            told = f"{handicapping.name} recommends no allowance for {name.replace('-', ' ')}; state it."
            raise CardError(told, where="terms, allowance_pct")
        allowance = allowance_for(handicapping, name)
        shares, by = allowance.value.shares, allowance.citations
    return HandicapLaw(course=course.value, playing=playing.value, shares=shares, citations=merged(course.citations, playing.citations, by))


def format_name(terms: Terms, players: int) -> str:
    """The name under which an allowance is recommended for the format of a competition."""
    form = terms.form
    match terms.sides:
        case Sides.INDIVIDUAL | Sides.THREE_BALL:
            return form.value
        case Sides.SCRAMBLE:
            return f"scramble-{players}"
        case Sides.BEST_OF:
            best = f"all-{players}-of-{players}" if terms.best_of == players else f"best-{terms.best_of}-of-{players}"
            return best + (f"-{form.value}" if form in {Form.PAR_BOGEY, Form.MATCH_PLAY} else "")
        case Sides.THREESOMES | Sides.BEST_BALL:
            return terms.sides.value
    name = _OF_SIDES[terms.sides]
    if form is Form.STROKE_PLAY or (terms.sides is not Sides.FOUR_BALL and form is not Form.MATCH_PLAY):
        return name
    return f"{name}-{form.value}" if terms.sides in {Sides.FOUR_BALL, Sides.FOURSOMES} else name


def course_figure(law: HandicapLaw, card: Card, tee: Tee) -> Figure | None:
    """The Course Handicap of a card, as stated or from its Index; None where it states neither.

    Args:
        law: How handicaps are played off.
        card: The card.
        tee: Its tee.

    Raises:
        CardError: The card states an Index, and its tee is not rated.
    """
    if card.course_handicap is not None:
        return Figure(value=round_half_up(card.course_handicap), unrounded=card.course_handicap)
    if card.handicap_index is None:
        return None
    if tee.course_rating is None or tee.slope_rating is None:
        raise CardError(f"The tee {tee.name} has no Course Rating and Slope Rating.", where=f"row {card.row}, handicap_index")
    rated = RatedTee(slope=tee.slope_rating, course_rating=tee.course_rating, par=tee.total_par)
    work_out = course_handicap_for_nine if tee.holes == _NINE else course_handicap
    return work_out(card.handicap_index, rated, law.course)


def told_share(law: HandicapLaw, course: Figure, share: Fraction) -> str:
    """How a Playing Handicap was worked out, in words."""
    return f"Course Handicap {_told(taken_from(course, law.playing))} x {_told(share * 100)}%"


def _told(value: Fraction) -> str:
    """A figure to four decimals at most, a plus handicap with its plus."""
    whole = value.denominator == 1
    text = tell_handicap(value, 0 if whole else 4)
    return text if whole else text.rstrip("0")
