"""Places of a competition, each charge and decision with its rule, as outsiders read them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from fractions import Fraction

    from marram.scoring.competition.terms_of_competition import Terms
    from marram.scoring.forms.card_score import CardScore
    from marram.scoring.forms.charges import Charge
    from marram.scoring.forms.hole_value import HoleScore
    from marram.scoring.forms.returned_card import CardDecision
    from marram.scoring.matches.match_score import Ball, MatchHole, MatchScore
    from marram.scoring.ranked import Ranked, Results


class ChargeShape(Shape, frozen=True, kw_only=True):
    """A penalty as it was charged.

    Attributes:
        hole: The hole; null for the round.
        strokes: Penalty strokes on the hole.
        points: Points off the total.
        holes: Holes off the result.
        disqualified: Whether it disqualifies.
        in_score: Whether the score of the hole held the strokes already.
        act: The act; empty where strokes alone were stated.
        ruling: Id of the ruling; empty where there is none.
        player: Whose card it stands on: the player, or the side that plays one ball.
        round: Number of the round.
        says: The same in words.
        citations: The rules.
    """

    hole: int | None
    strokes: int
    points: int
    holes: int
    disqualified: bool
    in_score: bool
    act: str
    ruling: str
    player: str
    round: int
    says: str
    citations: tuple[CitationShape, ...]


class CardDecisionShape(Shape, frozen=True, kw_only=True):
    """What was decided of a card.

    Attributes:
        hole: The hole; null for the card.
        strokes: Strokes that were added.
        disqualified: Whether it disqualifies.
        act: The act of the rule data.
        ruling: Id of the ruling; empty where there is none.
        player: Whose card it is; empty of the one card that partners return.
        round: Number of the round.
        says: The same in words.
        citations: The rules.
    """

    hole: int | None
    strokes: int
    disqualified: bool
    act: str
    ruling: str
    player: str
    round: int
    says: str
    citations: tuple[CitationShape, ...]


class ScoredHoleShape(Shape, frozen=True, kw_only=True):
    """What a hole counts.

    Attributes:
        hole: Its number.
        par: Its par.
        received: Strokes received on it; below zero where they are given.
        strokes: Strokes with all penalty strokes; null where there is no score.
        counted: Strokes that count, a maximum taken into account; null where none do.
        value: What it is worth in the form of play; null where nothing counts.
        stop_after_strokes: Strokes after which a ball that is not holed can gain nothing more; null where every stroke counts.
        stop: Whether the player came to that point on this hole.
        why: Why there is no score; empty where there is one.
        counts: False where the hole does not count, since the round was cut short; left out where it does.
    """

    hole: int
    par: int
    received: int
    strokes: int | None
    counted: int | None
    value: int | None
    stop_after_strokes: int | None
    stop: bool
    why: str
    counts: bool | UnsetType = UNSET


class ScoredRoundShape(Shape, frozen=True, kw_only=True):
    """A card as it was scored.

    Attributes:
        round: Number of the round.
        tee: The tee.
        start: The hole at which the player began.
        total: Its result; null where there is none.
        gross: Strokes counted; null where a hole has no score.
        handicap: Strokes received over the round; below zero for a plus handicap.
        handicap_says: How they were worked out; empty in a gross competition.
        off_total: Points or holes taken off.
        row: Row of the table.
        holes: Each hole.
    """

    round: int
    tee: str
    start: int
    total: int | None
    gross: int | None
    handicap: int
    handicap_says: str
    off_total: int
    row: int
    holes: tuple[ScoredHoleShape, ...]


class ComparedShape(Shape, frozen=True, kw_only=True):
    """What a step compared between equal results.

    Attributes:
        step: The step.
        value: The value, such as ``35`` or ``23 1/3``.
    """

    step: str
    value: str


class RankedShape(Shape, frozen=True, kw_only=True):
    """A player or side in the results.

    Attributes:
        place: The place, from 1; null where there is no result.
        joint: Whether another has the same place.
        match: The match; empty in stroke play.
        player: The player or side.
        score: The result: strokes, points, holes won less lost, or holes up in a match; null where there is none.
        score_says: The result in words.
        decided_by: What decided the place: ``score``, a step between equal results, or ``joint``; how a match ended; empty without a place.
        compared: What each step compared, up to the one that decided.
        status: What became of the card: returned, withdrawn, not-returned, did-not-start or disqualified.
        penalties: What was charged.
        decisions: What was decided of the card.
        rounds: The cards.
        citations: The rules that the result, or its lack, rests on.
    """

    place: int | None
    joint: bool
    match: str
    player: str
    score: int | None
    score_says: str
    decided_by: str
    compared: tuple[ComparedShape, ...]
    status: str
    penalties: tuple[ChargeShape, ...]
    decisions: tuple[CardDecisionShape, ...]
    rounds: tuple[ScoredRoundShape, ...]
    citations: tuple[CitationShape, ...]


class MatchHoleShape(Shape, frozen=True, kw_only=True):
    """A hole of a match.

    Attributes:
        played: Its number in the order of play, from 1; extra holes go on.
        hole: Its number on the course.
        winner: The side that won it; empty where it was tied.
        net: Net score of each side that counts, in the order of the sides; null where a side has none.
        state: The state of the match after it: ``all square``, or of the leader ``2 up`` or ``2 up, dormie``.
        leader: The side that leads after it; empty where none does.
        says: What decided the hole where strokes did not; empty where they did.
    """

    played: int
    hole: int
    winner: str
    net: tuple[int | None, int | None]
    state: str
    leader: str
    says: str


class MatchPlayerShape(Shape, frozen=True, kw_only=True):
    """A player of a match, or a side that plays one ball.

    Attributes:
        player: The player or side.
        side: The side.
        handicap: The Playing Handicap; 0 in a gross match.
        receives: Strokes received off the lowest.
        strokes_on_holes: Holes of the course on which strokes are received, as often as there are strokes.
    """

    player: str
    side: str
    handicap: int
    receives: int
    strokes_on_holes: tuple[int, ...]


class MatchShape(Shape, frozen=True, kw_only=True):
    """A match.

    Attributes:
        match: The match.
        sides: Its two sides.
        winner: The side that won; empty where none did.
        result: The result: ``3 & 2``, ``1 up``, ``20th hole``, ``tied``, ``conceded``, or the state of a match that is not over.
        ended: How it came to its end: by-holes, tied, conceded, disqualified or not-over.
        ended_on_hole: So many holes were played, extra holes included.
        dormie_after_hole: After how many holes a side was first dormie; null where none was.
        players: Who played, with the strokes received.
        holes: The holes.
        citations: The rules.
    """

    match: str
    sides: tuple[str, str]
    winner: str
    result: str
    ended: str
    ended_on_hole: int
    dormie_after_hole: int | None
    players: tuple[MatchPlayerShape, ...]
    holes: tuple[MatchHoleShape, ...]
    citations: tuple[CitationShape, ...]


class CompetitionResultsShape(Shape, frozen=True, kw_only=True):
    """The results under a book.

    Attributes:
        book: The book.
        stamp: Its stamp.
        why_none: Why the book cannot score the competition; empty where it can.
        places: Players or sides, the first place first; of each match the winner and then the other side.
        matches: The matches; empty in stroke play.
        tie_citations: The rules by which ties were decided; empty where there was none.
        remarks: What of the terms the book does not know, in sentences.
    """

    book: str
    stamp: str
    why_none: str
    places: tuple[RankedShape, ...]
    matches: tuple[MatchShape, ...]
    tie_citations: tuple[CitationShape, ...]
    remarks: tuple[str, ...]


class ScoreAnswers(Answer, frozen=True, kw_only=True):
    """The results of a competition, under each book.

    Attributes:
        schema: Name and version of this shape.
        title: The competition.
        form: The form of play.
        remarks: What is no fault and still worth a look.
        books: One entry for each book asked.
    """

    schema: Literal["marram.score/1"] = "marram.score/1"
    title: str
    form: str
    remarks: tuple[str, ...]
    books: tuple[CompetitionResultsShape, ...]


def score_answers(results: Iterable[Results], terms: Terms, remarks: Sequence[str]) -> ScoreAnswers:
    """The results under each book."""
    return ScoreAnswers(title=terms.title, form=terms.form.value, remarks=tuple(remarks), books=tuple(map(results_shape, results)))


def results_shape(results: Results) -> CompetitionResultsShape:
    """The results under a book."""
    return CompetitionResultsShape(
        book=results.book,
        stamp=results.stamp,
        why_none=results.why_none,
        places=tuple(map(place_shape, results.ranked)),
        matches=tuple(map(_match, results.matches)),
        tie_citations=citation_shapes(results.tie_citations),
        remarks=results.remarks,
    )


def place_shape(ranked: Ranked) -> RankedShape:
    """A player or side in the results."""
    placed = ranked.placed
    return RankedShape(
        place=placed.place if placed is not None else None,
        joint=placed is not None and placed.is_joint,
        match=ranked.match,
        player=ranked.name,
        score=ranked.total,
        score_says=ranked.words,
        decided_by=placed.decided_by if placed is not None else "",
        compared=tuple(
            ComparedShape(step=one.step, value=value_words(one.value)) for one in (placed.compared if placed is not None else ())
        ),
        status=ranked.status.value,
        penalties=tuple(_penalty(charge) for charge in ranked.charges),
        decisions=tuple(_decision(decision) for decision in ranked.decisions),
        rounds=tuple(map(_round, ranked.rounds)),
        citations=citation_shapes(ranked.citations),
    )


def value_words(value: Fraction) -> str:
    """A value with its part of a stroke, such as ``35``, ``35 1/2`` or ``-1/3``."""
    whole, rest = divmod(abs(value), 1)
    sign = "-" if value < 0 else ""
    part = f"{rest.numerator}/{rest.denominator}" if rest else ""
    return f"{sign}{int(whole)} {part}".rstrip() if whole or not part else f"{sign}{part}"


def _penalty(charge: Charge) -> ChargeShape:
    amounts = {unit: charge.amount if charge.unit == unit and charge.charged in {"on-hole", "off-total"} else 0 for unit in _UNITS}
    return ChargeShape(
        hole=charge.hole,
        strokes=amounts["strokes"],
        points=amounts["points"],
        holes=amounts["holes"],
        disqualified=charge.charged == "disqualified",
        in_score=charge.is_in_score,
        act=charge.act,
        ruling=charge.ruling,
        player=charge.player,
        round=charge.round,
        says=charge.says,
        citations=citation_shapes(charge.citations),
    )


_UNITS = ("strokes", "points", "holes")


def _decision(decision: CardDecision) -> CardDecisionShape:
    return CardDecisionShape(
        hole=decision.hole,
        strokes=decision.strokes,
        disqualified=decision.is_out,
        act=decision.act,
        ruling=decision.ruling,
        player=decision.player,
        round=decision.round,
        says=decision.says,
        citations=citation_shapes(decision.citations),
    )


def _round(one: CardScore) -> ScoredRoundShape:
    return ScoredRoundShape(
        round=one.card.round,
        tee=one.tee.name,
        start=one.card.start,
        total=one.total,
        gross=one.gross,
        handicap=one.strokes.total,
        handicap_says=one.strokes.says,
        off_total=one.off_total,
        row=one.card.row,
        holes=tuple(map(_hole, one.holes)),
    )


def _hole(hole: HoleScore) -> ScoredHoleShape:
    return ScoredHoleShape(
        hole=hole.hole,
        par=hole.par,
        received=hole.received,
        strokes=hole.strokes,
        counted=hole.counted,
        value=hole.value,
        stop_after_strokes=hole.stop_after,
        stop=hole.may_stop,
        why=hole.why,
        counts=UNSET if hole.does_count else False,
    )


def _match(match: MatchScore) -> MatchShape:
    course = match.course
    return MatchShape(
        match=match.match,
        sides=match.sides,
        winner=_side(match, course.winner),
        result=course.result,
        ended=course.ended.value,
        ended_on_hole=course.ended_on,
        dormie_after_hole=course.dormie_after,
        players=tuple(_match_player(match, ball) for ball in match.balls),
        holes=tuple(_match_hole(match, hole) for hole in match.holes),
        citations=citation_shapes(match.citations),
    )


def _side(match: MatchScore, sign: int) -> str:
    """The side that a sign stands for: above zero the first, below zero the second."""
    return "" if sign == 0 else match.sides[0 if sign > 0 else 1]


def _match_player(match: MatchScore, ball: Ball) -> MatchPlayerShape:
    return MatchPlayerShape(
        player=ball.name,
        side=match.sides[ball.side],
        handicap=ball.handicap,
        receives=ball.received,
        strokes_on_holes=tuple(hole for hole, strokes in enumerate(ball.by_hole, start=1) for _ in range(strokes)),
    )


def _match_hole(match: MatchScore, hole: MatchHole) -> MatchHoleShape:
    state = match.course.states[hole.played - 1]
    return MatchHoleShape(
        played=hole.played,
        hole=hole.hole,
        winner=_side(match, hole.won.outcome),
        net=hole.won.nets,
        state=state.words,
        leader=_side(match, state.lead),
        says=hole.won.says,
    )
