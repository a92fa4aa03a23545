"""What was decided in an event as outsiders read it: rounds that count, the cut, play-offs, teams and the bracket."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.events.under_answer import UnderShape, under_shape
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.events.decided.cut_made import CutMade
    from marram.events.decided.play_off import PlayOff
    from marram.events.decided.round_counts import RoundCounts
    from marram.events.knockout.match_bracket import MatchBracket, MatchPlace, MatchWon
    from marram.events.team_places import TeamPlace
    from marram.office.events.kept_event import KeptEvent


class RoundCountsShape(Shape, frozen=True, kw_only=True):
    """What counts of a round that was cut short or cancelled.

    Attributes:
        round: Number of the round.
        holes: Numbers of the holes that count; none of a round that is cancelled; null where all of it counts after all.
        cancelled: Whether it counts for nothing.
        strokes: How strokes received count over them; empty for as the form of play asks.
        because: Why.
        says: The same in words.
    """

    round: int
    holes: tuple[int, ...] | None
    cancelled: bool
    strokes: str
    because: str
    says: str


class CutShape(Shape, frozen=True, kw_only=True):
    """A cut.

    Attributes:
        after_round: After which round it was made.
        line: The last result that plays on; null where nobody is out.
        through: Players or sides who play on.
        out: Players or sides who do not.
        rule: The rule in the Committee's own words.
        says: The same in words.
    """

    after_round: int
    line: int | None
    through: tuple[str, ...]
    out: tuple[str, ...]
    rule: str
    says: str


class PlayOffShape(Shape, frozen=True, kw_only=True):
    """A play-off or a lot.

    Attributes:
        by: ``play-off`` or ``lot``.
        order: Those who were equal, in the order that it gave.
        how: How it went.
    """

    by: str
    order: tuple[str, ...]
    how: str


class TeamScoreShape(Shape, frozen=True, kw_only=True):
    """A player's score for a team.

    Attributes:
        player: The player.
        round: Number of the round; 0 for the whole event.
        score: The score.
        counts: Whether it is among the best that count.
    """

    player: str
    round: int
    score: int
    counts: bool


class TeamShape(Shape, frozen=True, kw_only=True):
    """A team in the results.

    Attributes:
        team: Its name.
        place: Its place; null where it has too few scores.
        score: Its result; null where it has none.
        joint: Whether another has the same place.
        decided_by: What decided the place: ``score``, a step, or ``joint``.
        because: Why there is no result; empty where there is one.
        scores: The scores of its players.
    """

    team: str
    place: int | None
    score: int | None
    joint: bool
    decided_by: str
    because: str
    scores: tuple[TeamScoreShape, ...]


class BracketMatchShape(Shape, frozen=True, kw_only=True):
    """A match of a bracket.

    Attributes:
        round: Number of the round.
        number: Its number in the round, from the top.
        sides: The two as far as they are known; empty where nobody is.
        winner: Who goes on; empty where that is open.
        says: The result behind the name of the winner, ``bye``, or empty.
    """

    round: int
    number: int
    sides: tuple[str, ...]
    winner: str
    says: str


class BracketShape(Shape, frozen=True, kw_only=True):
    """A bracket as it stands.

    Attributes:
        by: What gave the numbers.
        seed: The seed of a draw at random.
        numbered: Players or sides by their numbers, 1 first.
        byes: Who goes to the second round without a match.
        matches: The matches, round by round from the top.
        winner: Who won; empty while that is open.
    """

    by: str
    seed: str
    numbered: tuple[str, ...]
    byes: tuple[str, ...]
    matches: tuple[BracketMatchShape, ...]
    winner: str


class EventCountsAnswer(Answer, frozen=True, kw_only=True):
    """A round that was cut short or cancelled.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        counts: What counts.
        under: What the event is played under.
    """

    schema: Literal["marram.event-counts/1"] = "marram.event-counts/1"
    event: str
    counts: RoundCountsShape
    under: UnderShape


class EventCutAnswer(Answer, frozen=True, kw_only=True):
    """A cut that was made.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        cut: The cut.
        under: What the event is played under.
    """

    schema: Literal["marram.event-cut/1"] = "marram.event-cut/1"
    event: str
    cut: CutShape
    under: UnderShape


class EventPlayOffAnswer(Answer, frozen=True, kw_only=True):
    """A play-off or a lot that was logged.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        held: The play-off.
        under: What the event is played under.
    """

    schema: Literal["marram.event-play-off/1"] = "marram.event-play-off/1"
    event: str
    held: PlayOffShape
    under: UnderShape


class EventBracketAnswer(Answer, frozen=True, kw_only=True):
    """A bracket that was drawn.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        bracket: The bracket.
        under: What the event is played under.
    """

    schema: Literal["marram.event-bracket/1"] = "marram.event-bracket/1"
    event: str
    bracket: BracketShape
    under: UnderShape


class EventMatchAnswer(Answer, frozen=True, kw_only=True):
    """The result of a match.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        round: Number of the round.
        winner: Who goes on.
        loser: Who does not.
        says: The result behind the name of the winner.
        struck: Whether it does not stand any more.
        under: What the event is played under.
    """

    schema: Literal["marram.event-match/1"] = "marram.event-match/1"
    event: str
    round: int
    winner: str
    loser: str
    says: str
    struck: bool
    under: UnderShape


def counts_shape(counts: RoundCounts) -> RoundCountsShape:
    """What counts of a round."""
    return RoundCountsShape(
        round=counts.round,
        holes=counts.holes,
        cancelled=counts.holes == (),
        strokes=counts.strokes.value if counts.strokes is not None else "",
        because=counts.why,
        says=counts.says,
    )


def cut_shape(cut: CutMade) -> CutShape:
    """A cut."""
    return CutShape(after_round=cut.after_round, line=cut.line, through=cut.through, out=cut.out, rule=cut.rule, says=cut.says)


def play_off_shape(held: PlayOff) -> PlayOffShape:
    """A play-off or a lot."""
    return PlayOffShape(by=held.step.value, order=held.order, how=held.how)


def team_shape(team: TeamPlace) -> TeamShape:
    """A team in the results."""
    return TeamShape(
        team=team.team,
        place=team.place,
        score=team.total,
        joint=team.is_joint,
        decided_by=team.decided_by,
        because=team.why,
        scores=tuple(TeamScoreShape(player=one.player, round=one.round, score=one.score, counts=one.does_count) for one in team.scores),
    )


def bracket_shape(bracket: MatchBracket) -> BracketShape:
    """A bracket as it stands."""
    return BracketShape(
        by=bracket.drawn.by,
        seed=bracket.drawn.seed,
        numbered=bracket.drawn.numbered,
        byes=bracket.byes,
        matches=tuple(_match(place) for one in bracket.rounds for place in one),
        winner=bracket.winner,
    )


def _match(place: MatchPlace) -> BracketMatchShape:
    return BracketMatchShape(round=place.round, number=place.number, sides=place.sides, winner=place.winner, says=place.told)


def event_counts_answer(event: KeptEvent, counts: RoundCounts) -> EventCountsAnswer:
    """A round that was cut short or cancelled."""
    return EventCountsAnswer(event=event.name, counts=counts_shape(counts), under=under_shape(event.under))


def event_cut_answer(event: KeptEvent, cut: CutMade) -> EventCutAnswer:
    """A cut that was made."""
    return EventCutAnswer(event=event.name, cut=cut_shape(cut), under=under_shape(event.under))


def event_play_off_answer(event: KeptEvent, held: PlayOff) -> EventPlayOffAnswer:
    """A play-off or a lot that was logged."""
    return EventPlayOffAnswer(event=event.name, held=play_off_shape(held), under=under_shape(event.under))


def event_bracket_answer(event: KeptEvent, bracket: MatchBracket) -> EventBracketAnswer:
    """A bracket that was drawn."""
    return EventBracketAnswer(event=event.name, bracket=bracket_shape(bracket), under=under_shape(event.under))


def event_match_answer(event: KeptEvent, won: MatchWon) -> EventMatchAnswer:
    """The result of a match."""
    return EventMatchAnswer(
        event=event.name,
        round=won.round,
        winner=won.winner,
        loser=won.loser,
        says=won.told,
        struck=won.is_struck,
        under=under_shape(event.under),
    )
