"""A match scored from its cards: strokes off the lowest, each hole, holes off the match, and who won."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from marram.core.citations import Citation, merged
from marram.core.errors import CardError
from marram.core.terms import Form
from marram.handicaps.playing_handicap import off_lowest
from marram.handicaps.strokes_on_holes import strokes_by_hole
from marram.scoring.cards.card import Card, CardStatus, HoleEntry
from marram.scoring.cards.concessions import Conceded, Concession
from marram.scoring.forms.charges import Charge, Charged, charges_on
from marram.scoring.forms.strokes_received import Played, playing_handicap_of
from marram.scoring.matches.concession import ConcessionJudged, judge_concession
from marram.scoring.matches.declared import Declared, handicap_declared
from marram.scoring.matches.hole_won import BallPlayed, HoleWon, who_wins
from marram.scoring.matches.state import Ended, MatchCourse, follow_match
from marram.scoring.sides.side import Side, handicap_of_side, is_one_ball, one_card
from marram.scoring.sides.side_score import Scoring


@dataclass(frozen=True, slots=True, kw_only=True)
class Ball:
    """A ball of a match: whoever plays it, the card, and the strokes received.

    Attributes:
        name: The player, or the side that plays one ball.
        side: 0 for the first side, 1 for the second.
        card: The card.
        handicap: The Playing Handicap; 0 in a gross match.
        handicap_by: The rules by which it was worked out; none where it was stated.
        received: Strokes received off the lowest.
        by_hole: Strokes received on each hole of the course.
        charges: What penalties cost.
        declared: What was decided of a handicap that was declared; None where there was nothing to decide.
        conceded: What was conceded, each with whether it stands.
    """

    name: str
    side: int
    card: Card
    handicap: int
    handicap_by: tuple[Citation, ...]
    received: int
    by_hole: tuple[int, ...]
    charges: tuple[Charge, ...]
    declared: Declared | None
    conceded: tuple[tuple[Concession, ConcessionJudged], ...] = ()

    @property
    def is_out(self) -> bool:
        """Whether it is disqualified."""
        return (
            self.card.status is CardStatus.DISQUALIFIED
            or (self.declared is not None and self.declared.is_out)
            or any(charge.charged is Charged.DISQUALIFIED for charge in self.charges)
            or any(judged.is_out for _, judged in self.conceded)
        )

    @property
    def is_gone(self) -> bool:
        """Whether it plays on no longer, or conceded the match."""
        gave_up = any(judged.stands and given.what is Conceded.MATCH for given, judged in self.conceded)
        return gave_up or self.card.status is not CardStatus.RETURNED

    def has_conceded(self, hole: int) -> bool:
        """Whether a hole was conceded, and the concession stands."""
        return any(judged.stands and given.what is Conceded.HOLE and given.hole == hole for given, judged in self.conceded)


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchHole:
    """A hole of a match.

    Attributes:
        played: Its number in the order of play, from 1.
        hole: Its number on the course.
        won: Who won it.
    """

    played: int
    hole: int
    won: HoleWon


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchScore:
    """A match as it was scored.

    Attributes:
        match: The match.
        sides: Names of the two sides.
        balls: The balls.
        holes: The holes that were played.
        course: How it went.
        citations: The rules that its result rests on.
    """

    match: str
    sides: tuple[str, str]
    balls: tuple[Ball, ...]
    holes: tuple[MatchHole, ...]
    course: MatchCourse
    citations: tuple[Citation, ...]


def score_match(by: Scoring, match: str, sides: tuple[Side, Side]) -> MatchScore:
    """Score a match.

    Args:
        by: What it is scored by.
        match: The match.
        sides: Its two sides.

    Raises:
        CardError: A card cannot be scored.
    """
    balls = _balls(by, sides)
    course_holes = by.terms.tee_of(balls[0].card.tee).holes
    holes = _holes(balls, course_holes)
    course = follow_match(
        [hole.won.outcome for hole in holes], course_holes, _off_match(balls, course_holes), may_end_tied=by.terms.may_end_tied
    )
    played = tuple(hole for hole in holes if hole.played <= course.ended_on)
    ended = _ended_otherwise(balls, course)
    return MatchScore(
        match=match, sides=(sides[0].name, sides[1].name), balls=balls, holes=played, course=ended, citations=_citations(by, balls)
    )


def _citations(by: Scoring, balls: Sequence[Ball]) -> tuple[Citation, ...]:
    declared = (ball.declared.citations for ball in balls if ball.declared is not None)
    row = "match-end"
    end = by.book.citations(row) if by.book.has_row(row) else ()
    conceded = (judged.citations for ball in balls for _, judged in ball.conceded)
    return merged(by.law.citations, end, *declared, *conceded, *(ball.handicap_by for ball in balls))


def _balls(by: Scoring, sides: tuple[Side, Side]) -> tuple[Ball, ...]:
    held = [
        (place, name, card, side if is_one_ball(by.terms, side) else None)
        for place, side in enumerate(sides)
        for name, card, side in _cards_of(by, side)
    ]
    played = [_handicap(by, card, side) for _, _, card, side in held]
    handicaps = [one.strokes for one in played]
    declared = [_declared(by, card, handicaps, place) for place, (_, _, card, _) in enumerate(held)]
    counting = [found.strokes if found is not None else right for found, right in zip(declared, handicaps, strict=True)]
    received = off_lowest(counting)
    return tuple(
        Ball(
            name=name,
            side=place,
            card=card,
            handicap=counting[at],
            handicap_by=played[at].citations,
            received=received[at],
            by_hole=_strokes(by, card, received[at]),
            charges=charges_on(
                by.book, by.law, card, Form.FOURSOMES if side is not None else Form.FOUR_BALL if _has_partners(held, place) else None
            ),
            declared=declared[at],
            conceded=tuple((given, judge_concession(by.book, given)) for given in card.concessions),
        )
        for at, (place, name, card, side) in enumerate(held)
    )


def _cards_of(by: Scoring, side: Side) -> list[tuple[str, Card, Side]]:
    if is_one_ball(by.terms, side):
        return [(side.name, one_card(side), side)]
    return [(card.player, card, side) for card in side.cards]


def _has_partners(held: Sequence[tuple[int, str, Card, Side | None]], place: int) -> bool:
    return sum(entry[0] == place for entry in held) > 1


def _handicap(by: Scoring, card: Card, side: Side | None) -> Played:
    if by.handicaps is None:
        return Played(unrounded=Fraction(0), says="")
    if side is not None:
        return handicap_of_side(by.terms, by.handicaps, side)
    return playing_handicap_of(by.handicaps, card, by.terms.tee_of(card.tee))


def _declared(by: Scoring, card: Card, handicaps: Sequence[int], place: int) -> Declared | None:
    """What follows of the handicap that a player declared, where one was written down."""
    if by.handicaps is None or card.shown is None or card.shown.strokes is None or card.shown.strokes == handicaps[place]:
        return None
    others = [handicap for at, handicap in enumerate(handicaps) if at != place]
    return handicap_declared(by.book, handicaps[place], card.shown.strokes, others)


def _strokes(by: Scoring, card: Card, received: int) -> tuple[int, ...]:
    tee = by.terms.tee_of(card.tee)
    if not received:
        return (0,) * tee.holes
    if not tee.stroke_index:
        raise CardError(f"The tee {tee.name} has no stroke index, and strokes are taken hole by hole.", where=f"row {card.row}, tee")
    return strokes_by_hole(received, tee.stroke_index)


def _holes(balls: Sequence[Ball], course_holes: int) -> list[MatchHole]:
    """The holes in the order of play, extra holes in the same order again, up to the first that nobody played."""
    start = balls[0].card.start
    most = max(len(ball.card.entries) for ball in balls)
    found: list[MatchHole] = []
    for played in range(1, most + 1):
        hole = (start - 2 + played) % course_holes + 1
        # Extra holes have columns of their own, after those of the course.
        column = hole if played <= course_holes else played
        entries = [_entry(ball.card, column) for ball in balls]
        if not any(entry.is_played for entry in entries) and not any(_lost(ball, hole, balls) for ball in balls):
            break
        first, second = (
            [_ball_played(ball, entry, hole, balls) for ball, entry in zip(balls, entries, strict=True) if ball.side == side]
            for side in (0, 1)
        )
        found.append(MatchHole(played=played, hole=hole, won=who_wins(first, second)))
    return found


def _entry(card: Card, column: int) -> HoleEntry:
    return card.entries[column - 1] if column <= len(card.entries) else HoleEntry()


def _lost(ball: Ball, hole: int, balls: Sequence[Ball]) -> bool:
    """Whether a penalty cost a ball the hole: its own, or one of a partner that both bear."""
    own = [charge for charge in ball.charges if charge.hole == hole]
    theirs = [charge for other in balls if other is not ball and other.side == ball.side for charge in other.charges if charge.hole == hole]
    itself = [*own, *(charge for charge in theirs if charge.bears_partner)]
    return ball.has_conceded(hole) or any(charge.charged is Charged.HOLE_ITSELF for charge in itself)


def _ball_played(ball: Ball, entry: HoleEntry, hole: int, balls: Sequence[Ball]) -> BallPlayed:
    has_lost = entry.has_conceded or _lost(ball, hole, balls)
    added = sum(charge.strokes_on_hole for charge in ball.charges if charge.hole == hole)
    net = None if entry.strokes is None else entry.strokes + added - ball.by_hole[hole - 1]
    return BallPlayed(net=net, has_lost_hole=has_lost, given_up=entry.given_up)


def _off_match(balls: Sequence[Ball], course_holes: int) -> Mapping[int, int]:
    """Holes taken off the match, each after the hole of its breach; a side is charged once for a breach of both partners."""
    off: dict[int, int] = {}
    for ball in balls:
        for charge in ball.charges:
            if charge.charged is Charged.OFF_TOTAL and charge.hole is not None:
                played = (charge.hole - ball.card.start) % course_holes + 1
                off[played] = off.get(played, 0) + (-charge.amount if ball.side == 0 else charge.amount)
    return off


def _ended_otherwise(balls: Sequence[Ball], course: MatchCourse) -> MatchCourse:
    """A match that was conceded, or that a disqualification decided."""
    out = {ball.side for ball in balls if ball.is_out}
    gone = {side for side in (0, 1) if all(ball.is_gone for ball in balls if ball.side == side)}
    if not out and not gone:
        return course
    lost = out | gone
    winner = 0 if len(lost) > 1 else -1 if 0 in lost else 1
    ended = Ended.DISQUALIFIED if out else Ended.CONCEDED
    word = "disqualified" if out else "conceded" if course.ended_on else "walkover"
    return MatchCourse(
        states=course.states, winner=winner, ended=ended, ended_on=course.ended_on, result=word, dormie_after=course.dormie_after
    )
