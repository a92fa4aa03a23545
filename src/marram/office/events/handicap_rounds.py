"""Rounds of an event that count for handicap, as rows of a player's record; and of the others why they leave as none."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from io import StringIO

from marram.core.citations import Citation, merged
from marram.core.errors import EventError
from marram.core.terms import Form
from marram.events.event_results import score_event
from marram.handicaps.acceptability import RoundPlayed, accept
from marram.handicaps.adjusted_score import HoleCard, adjusted_gross, hole_limits
from marram.handicaps.rounding import round_whole
from marram.handicaps.rules.acceptance_rules import acceptance_rules
from marram.handicaps.rules.course_rules import course_handicap_rules
from marram.handicaps.rules.playing_rules import playing_handicap_rules, plus_gives_from
from marram.handicaps.rules.score_rules import hole_limit_rules
from marram.handicaps.strokes_on_holes import FULL_ROUND, HALF_ROUND
from marram.office.events.kept_event import KeptEvent
from marram.office.handicaps.accept_score import changes_of
from marram.office.scoring.results_table import safe_cell
from marram.scoring.cards.card import CardStatus
from marram.scoring.competition.terms_of_competition import Sides
from marram.scoring.forms.card_score import CardScore
from marram.scoring.forms.handicap_law import HandicapLaw, course_figure

HEADING = ("player", "date", "round", "adjusted gross", "course rating", "slope", "holes")
_FORMATS = {Form.STROKE_PLAY: "stroke-play-eighteen", Form.STABLEFORD: "stableford-eighteen"}
_NINE_HOLES = "nine-holes"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundForHandicap:
    """A round that counts.

    Attributes:
        player: The player.
        day: The day.
        round: Number of the round.
        adjusted_gross: The score for handicap.
        course_rating: Course Rating.
        slope: Slope Rating.
        holes: How many holes.
    """

    player: str
    day: date
    round: int
    adjusted_gross: int
    course_rating: Fraction
    slope: int
    holes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundsForHandicap:
    """Rounds of an event for handicap.

    Attributes:
        rounds: Those that count.
        others: Player and round of those that leave as no row, each with why.
        book: The book of handicapping.
        citations: Its rules.
    """

    rounds: tuple[RoundForHandicap, ...]
    others: tuple[tuple[str, int, str], ...]
    book: str
    citations: tuple[Citation, ...]


def find_rounds(event: KeptEvent, player: str = "") -> RoundsForHandicap:
    """Sort the rounds of an event into those that count for handicap and those that do not.

    Args:
        event: The event.
        player: The one player whose rounds are wanted; empty for all.

    Raises:
        EventError: The terms name no day, or the player has not entered.
    """
    if event.terms.day is None:
        raise EventError("The terms name no day, and a score for handicap has one.", where="terms, day", hint="Write day = 2026-06-13.")
    if player and not any(entry.player == player for entry in event.entries):
        raise EventError(f"{player} has not entered.", where=event.name, hint="Give the name as it was entered.")
    found = score_event(event.book, event.handicapping, event.terms, event.entries, event.as_ruled())
    rounds = list[RoundForHandicap]()
    others = list[tuple[str, int, str]]()
    for score in (one for ranked in found.results.ranked for one in ranked.rounds if player in {"", one.card.player}):
        why = _why_not(event, score)
        if why:
            others.append((score.card.player, score.card.round, why))
        else:
            rounds.append(_round(event, score))
    cited = acceptance_rules(event.handicapping)
    return RoundsForHandicap(
        rounds=tuple(sorted(rounds, key=lambda one: (one.player.casefold(), one.round))),
        others=tuple(sorted(others)),
        book=event.handicapping.name,
        citations=merged(cited.citations, hole_limit_rules(event.handicapping).citations),
    )


def _why_not(event: KeptEvent, score: CardScore) -> str:
    """Why a round leaves as no row; empty where it counts."""
    tee, terms = score.tee, event.terms.terms
    if score.card.status is not CardStatus.RETURNED:
        return score.card.why
    if terms.sides is not Sides.INDIVIDUAL or terms.form is Form.MATCH_PLAY:
        return "the format is not one player's own stroke play; the national association and the Committee say whether it counts"
    played = sum(entry.is_played for entry in score.card.entries[: tee.holes])
    format_ = _NINE_HOLES if tee.holes == HALF_ROUND else _FORMATS.get(terms.form, terms.form.value)
    asked = RoundPlayed(holes_played=played, holes_of_round=tee.holes, format=format_, changes=changes_of(event.book))
    accepted = accept(asked, acceptance_rules(event.handicapping).value)
    if not accepted.is_acceptable or accepted.because:
        return "; ".join(accepted.because)
    if score.total is None:
        return f"there is no result ({score.why}); the Committee says whether the score counts"
    if not tee.is_rated or not tee.stroke_index:
        return f"the tee {tee.name} lacks ratings or stroke index"
    if not all(hole.does_count for hole in score.holes):
        return "the round counts over some of its holes alone; the Committee says whether the score counts for handicap"
    if played < tee.holes:
        return "holes were not played; the Committee fills them in as the Rules of Handicapping say"
    return "" if _course_handicap(event, score) is not None else "no Handicap Index and no Course Handicap is known"


def _course_handicap(event: KeptEvent, score: CardScore) -> int | None:
    book = event.handicapping
    course, playing = course_handicap_rules(book, for_nine=score.tee.holes == HALF_ROUND), playing_handicap_rules(book)
    law = HandicapLaw(course=course.value, playing=playing.value, shares=(Fraction(1),), citations=())
    figure = course_figure(law, score.card, score.tee)
    return None if figure is None else round_whole(figure.value)


def _round(event: KeptEvent, score: CardScore) -> RoundForHandicap:
    tee, book = score.tee, event.handicapping
    day = event.terms.day_of(score.card.round)
    assert day is not None and tee.course_rating is not None and tee.slope_rating is not None
    holes = [HoleCard(par=par, stroke_index=index) for par, index in zip(tee.par, tee.stroke_index, strict=True)]
    limits = hole_limits(holes, _course_handicap(event, score), hole_limit_rules(book).value, plus_gives_from(book).value)
    return RoundForHandicap(
        player=score.card.player,
        day=day,
        round=score.card.round,
        adjusted_gross=adjusted_gross([hole.strokes for hole in score.holes], limits),
        course_rating=tee.course_rating,
        slope=tee.slope_rating,
        holes=min(tee.holes, FULL_ROUND),
    )


def rounds_table(found: RoundsForHandicap) -> str:
    """The rounds that count as CSV, in the columns of a handicap record.

    Args:
        found: The rounds.
    """
    out = StringIO(newline="")
    table = csv.writer(out, lineterminator="\n")
    table.writerow(HEADING)
    for one in found.rounds:
        rating = f"{float(one.course_rating):.1f}"
        table.writerow([safe_cell(one.player), one.day.isoformat(), one.round, one.adjusted_gross, rating, one.slope, one.holes])
    return out.getvalue()
