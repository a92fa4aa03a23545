"""The steps of an event as outsiders read them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.events.under_answer import UnderShape, under_shape
from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from marram.events.group_draw import GroupDraw
    from marram.events.happened import LoggedRuling
    from marram.events.starting_list import StartingList
    from marram.office.events.event_standing import HistoryRow
    from marram.office.events.handicap_rounds import RoundsForHandicap
    from marram.office.events.kept_event import KeptEvent
    from marram.office.events.run_event import Taken


class EventNewAnswer(Answer, frozen=True, kw_only=True):
    """An event that was begun.

    Attributes:
        schema: Name and version of this shape.
        event: Its name in the store.
        title: Its title.
        handicapping: The book of handicapping.
        under: What it is played under.
    """

    schema: Literal["marram.event-new/1"] = "marram.event-new/1"
    event: str
    title: str
    handicapping: str
    under: UnderShape


class CardOutShape(Shape, frozen=True, kw_only=True):
    """A card that is not in.

    Attributes:
        player: The player.
        round: Number of the round.
    """

    player: str
    round: int


class EventTakenAnswer(Answer, frozen=True, kw_only=True):
    """What a table of entries or cards did to an event.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        what: ``entries`` or ``cards``.
        added: So many are new.
        changed: So many took the place of what stood.
        same: So many stood as they are.
        still_out: Players whose card is not in, each with the round; of entries none.
        remarks: What is no fault and still worth a look.
        under: What it is played under.
    """

    schema: Literal["marram.event-taken/1"] = "marram.event-taken/1"
    event: str
    what: str
    added: int
    changed: int
    same: int
    still_out: tuple[CardOutShape, ...]
    remarks: tuple[str, ...]
    under: UnderShape


class DrawnGroupShape(Shape, frozen=True, kw_only=True):
    """A group of a draw.

    Attributes:
        number: Its number, in the order in which groups start.
        players: Names of its players.
    """

    number: int
    players: tuple[str, ...]


class EventDrawAnswer(Answer, frozen=True, kw_only=True):
    """A draw.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        by: What decided: random, handicap or list.
        seed: The seed; empty for a list.
        groups: The groups.
        under: What it is played under.
    """

    schema: Literal["marram.event-draw/1"] = "marram.event-draw/1"
    event: str
    by: str
    seed: str
    groups: tuple[DrawnGroupShape, ...]
    under: UnderShape


class StartingGroupShape(Shape, frozen=True, kw_only=True):
    """A group on the starting list.

    Attributes:
        number: Its number in the draw.
        time: When it starts, such as ``08:10``.
        hole: The hole from which it starts.
        letter: A or B where two groups start from one hole, A first; empty else.
        players: Names of its players.
    """

    number: int
    time: str
    hole: int
    letter: str
    players: tuple[str, ...]


class EmptyTimeShape(Shape, frozen=True, kw_only=True):
    """A time that stays empty.

    Attributes:
        time: The time.
        hole: The hole.
    """

    time: str
    hole: int


class EventTimesAnswer(Answer, frozen=True, kw_only=True):
    """A starting list.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        groups: The groups, by time and then by number.
        empty: Times that stay empty for the starter.
        remarks: What is to be looked at.
        under: What it is played under.
    """

    schema: Literal["marram.event-times/1"] = "marram.event-times/1"
    event: str
    groups: tuple[StartingGroupShape, ...]
    empty: tuple[EmptyTimeShape, ...]
    remarks: tuple[str, ...]
    under: UnderShape


class EventRulingAnswer(Answer, frozen=True, kw_only=True):
    """A ruling that was logged.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        ruling: Its name.
        player: The player.
        round: Number of the round.
        hole: The hole; null for the round.
        act: The act that is charged; empty where strokes alone are stated, or nothing is.
        strokes: Penalty strokes that are stated; null where the act says them, or nothing is charged.
        says: What happened and what was ruled.
        struck: Whether it does not stand any more.
        under: What the event is played under.
    """

    schema: Literal["marram.event-ruling/1"] = "marram.event-ruling/1"
    event: str
    ruling: str
    player: str
    round: int
    hole: int | None
    act: str
    strokes: int | None
    says: str
    struck: bool
    under: UnderShape


class HistoryShape(Shape, frozen=True, kw_only=True):
    """A row of an event.

    Attributes:
        number: Its number.
        kind: What it is about: terms, entry, draw, times, card, out, ruling, play or state.
        key: Whose or which it is.
        says: What it says, as JSON text.
        supersedes: Number of the row whose place it took; null where it took none.
        superseded_by: Number of the row that took its place; null where it stands.
        who: Who wrote it.
        at: When, ISO 8601 in UTC.
        reason: Why.
        stamp: Its stamp as it is printed.
    """

    number: int
    kind: str
    key: str
    says: str
    supersedes: int | None
    superseded_by: int | None
    who: str
    at: str
    reason: str
    stamp: str


class EventHistoryAnswer(Answer, frozen=True, kw_only=True):
    """Rows of an event, in the order in which they were written.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        rows: The rows.
    """

    schema: Literal["marram.event-history/1"] = "marram.event-history/1"
    event: str
    rows: tuple[HistoryShape, ...]


class HandicapRoundShape(Shape, frozen=True, kw_only=True):
    """A round that counts for handicap.

    Attributes:
        player: The player.
        date: The day.
        round: Number of the round.
        adjusted_gross: The score for handicap.
        course_rating: Course Rating.
        slope: Slope Rating.
        holes: How many holes.
    """

    player: str
    date: str
    round: int
    adjusted_gross: int
    course_rating: float
    slope: int
    holes: int


class RoundLeftOutShape(Shape, frozen=True, kw_only=True):
    """A round that leaves as no row of a record.

    Attributes:
        player: The player.
        round: Number of the round.
        because: Why.
    """

    player: str
    round: int
    because: str


class EventRoundsAnswer(Answer, frozen=True, kw_only=True):
    """Rounds of an event for handicap.

    Attributes:
        schema: Name and version of this shape.
        event: The event.
        handicapping: The book of handicapping.
        rounds: Those that count.
        left_out: The others.
        under: What it is played under.
        citations: The rules of handicapping.
    """

    schema: Literal["marram.event-rounds/1"] = "marram.event-rounds/1"
    event: str
    handicapping: str
    rounds: tuple[HandicapRoundShape, ...]
    left_out: tuple[RoundLeftOutShape, ...]
    under: UnderShape
    citations: tuple[CitationShape, ...]


def event_new_answer(event: KeptEvent) -> EventNewAnswer:
    """An event that was begun."""
    return EventNewAnswer(event=event.name, title=event.title, handicapping=event.handicapping.name, under=under_shape(event.under))


def event_taken_answer(
    event: KeptEvent, what: str, taken: Taken, not_in: Iterable[tuple[str, int]], remarks: Sequence[str]
) -> EventTakenAnswer:
    """What a table of entries or cards did to an event."""
    return EventTakenAnswer(
        event=event.name,
        what=what,
        added=taken.added,
        changed=taken.changed,
        same=taken.same,
        still_out=cards_out(not_in),
        remarks=tuple(remarks),
        under=under_shape(event.under),
    )


def cards_out(not_in: Iterable[tuple[str, int]]) -> tuple[CardOutShape, ...]:
    """Cards that are not in."""
    return tuple(CardOutShape(player=player, round=number) for player, number in not_in)


def event_draw_answer(event: KeptEvent, draw: GroupDraw) -> EventDrawAnswer:
    """A draw."""
    groups = tuple(DrawnGroupShape(number=number, players=players) for number, players in enumerate(draw.groups, start=1))
    return EventDrawAnswer(event=event.name, by=draw.by.value, seed=draw.seed, groups=groups, under=under_shape(event.under))


def event_times_answer(event: KeptEvent, starts: StartingList) -> EventTimesAnswer:
    """A starting list."""
    groups = tuple(
        StartingGroupShape(number=one.number, time=one.time, hole=one.hole, letter=one.letter, players=one.players) for one in starts.groups
    )
    empty = tuple(EmptyTimeShape(time=time, hole=hole) for time, hole in starts.empty_words)
    return EventTimesAnswer(event=event.name, groups=groups, empty=empty, remarks=starts.remarks, under=under_shape(event.under))


def event_ruling_answer(event: KeptEvent, ruling: LoggedRuling) -> EventRulingAnswer:
    """A ruling that was logged."""
    penalty = ruling.penalty
    return EventRulingAnswer(
        event=event.name,
        ruling=ruling.id,
        player=ruling.player,
        round=ruling.round,
        hole=None if penalty is None else penalty.hole,
        act="" if penalty is None else penalty.act,
        strokes=None if penalty is None else penalty.strokes,
        says=ruling.says,
        struck=ruling.is_struck,
        under=under_shape(event.under),
    )


def event_history_answer(event: str, rows: Iterable[HistoryRow]) -> EventHistoryAnswer:
    """Rows of an event."""
    told = tuple(HistoryShape(**{name: getattr(row, name) for name in HistoryShape.__struct_fields__}) for row in rows)
    return EventHistoryAnswer(event=event, rows=told)


def event_rounds_answer(event: KeptEvent, found: RoundsForHandicap) -> EventRoundsAnswer:
    """Rounds of an event for handicap."""
    return EventRoundsAnswer(
        event=event.name,
        handicapping=found.book,
        rounds=tuple(
            HandicapRoundShape(
                player=one.player,
                date=one.day.isoformat(),
                round=one.round,
                adjusted_gross=one.adjusted_gross,
                course_rating=float(one.course_rating),
                slope=one.slope,
                holes=one.holes,
            )
            for one in found.rounds
        ),
        left_out=tuple(RoundLeftOutShape(player=player, round=number, because=why) for player, number, why in found.others),
        under=under_shape(event.under),
        citations=citation_shapes(found.citations),
    )
