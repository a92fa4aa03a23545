"""Results of an event as outsiders read them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.events.decided_answer import (
    BracketShape,
    CutShape,
    PlayOffShape,
    RoundCountsShape,
    TeamShape,
    bracket_shape,
    counts_shape,
    cut_shape,
    play_off_shape,
    team_shape,
)
from marram.answers.events.event_answer import CardOutShape, cards_out
from marram.answers.events.under_answer import UnderShape, under_shape
from marram.answers.scores.score_answer import CompetitionResultsShape, RankedShape, place_shape, results_shape
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.events.event_results import PlaceList
    from marram.office.events.event_standing import EventStanding


class PlaceListShape(Shape, frozen=True, kw_only=True):
    """Places of the whole field or of a division.

    Attributes:
        division: The division; empty for the whole field.
        scores: ``net`` or ``gross``.
        places: Players or sides, the first place first; those without a result last.
    """

    division: str
    scores: str
    places: tuple[RankedShape, ...]


class EventResultsAnswer(Answer, frozen=True, kw_only=True):
    """Results of an event.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        title: Its title.
        form: The form of play.
        state: ``provisional`` while anything may change.
        stamp: Stamp of the last row of the event.
        suspended: What is said of the last suspension of play; empty where there was none.
        under: What it is played under.
        entered: So many have entered.
        places: Places of the whole field in the scores of the terms.
        lists: Places of the whole field and of each division, gross and net.
        not_in: Players whose card is not in.
        not_started: Players who did not start.
        after_round: After which round this is so; null for how it stands now.
        counts: Rounds that were cut short or cancelled.
        cut: The cut; null where none was made.
        play_offs: The play-offs and lots that were held.
        undecided: What the Committee has still to decide, in sentences.
        teams: Places of teams; none where the terms have none.
        bracket: The bracket; null where none is drawn.
        books: The same as `marram score` gives it for the cards by themselves.
    """

    schema: Literal["marram.event-results/1"] = "marram.event-results/1"
    event: str
    title: str
    form: str
    state: str
    stamp: str
    suspended: str
    under: UnderShape
    entered: int
    places: tuple[RankedShape, ...]
    lists: tuple[PlaceListShape, ...]
    not_in: tuple[CardOutShape, ...]
    not_started: tuple[str, ...]
    after_round: int | None
    counts: tuple[RoundCountsShape, ...]
    cut: CutShape | None
    play_offs: tuple[PlayOffShape, ...]
    undecided: tuple[str, ...]
    teams: tuple[TeamShape, ...]
    bracket: BracketShape | None
    books: tuple[CompetitionResultsShape, ...]


def event_results_answer(stands: EventStanding) -> EventResultsAnswer:
    """Results of an event."""
    whole = results_shape(stands.found.results)
    return EventResultsAnswer(
        event=stands.name,
        title=stands.terms.title,
        form=stands.terms.form.value,
        state=stands.state,
        stamp=stands.stamp,
        suspended=stands.suspended,
        under=under_shape(stands.under),
        entered=stands.entered,
        places=whole.places,
        lists=tuple(map(_list, stands.found.lists)),
        not_in=cards_out(stands.found.not_in),
        not_started=stands.found.not_started,
        after_round=stands.after_round,
        counts=tuple(map(counts_shape, stands.counts)),
        cut=cut_shape(stands.cut) if stands.cut is not None else None,
        play_offs=tuple(map(play_off_shape, stands.play_offs)),
        undecided=stands.undecided,
        teams=tuple(map(team_shape, stands.found.teams)),
        bracket=bracket_shape(stands.bracket) if stands.bracket is not None else None,
        books=(whole,),
    )


def _list(one: PlaceList) -> PlaceListShape:
    return PlaceListShape(division=one.division, scores="net" if one.is_net else "gross", places=tuple(map(place_shape, one.ranked)))
