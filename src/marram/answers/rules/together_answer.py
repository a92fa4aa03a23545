"""What several acts cost together, as outsiders read it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeVar

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.shape import Shape

if TYPE_CHECKING:
    from marram.office.play.add_acts import SumTold
    from marram.rulings.acts.sum_of_breaches import Together

S = TypeVar("S", bound=Shape)


class StrokePlayTotalShape(Shape, frozen=True, kw_only=True):
    """What the acts cost in stroke play; a member is null where it hangs on what nobody has said.

    Attributes:
        strokes: Penalty strokes.
        hole: Empty: no hole is lost in stroke play.
        disqualified: Whether the player is disqualified.
        other_player_strokes: Penalty strokes that another player bears.
        words: The same in words.
    """

    strokes: int | None
    hole: str | None
    disqualified: bool | None
    other_player_strokes: int | None
    words: str | None


class MatchPlayTotalShape(Shape, frozen=True, kw_only=True):
    """What the acts cost in match play; a member is null where it hangs on what nobody has said.

    Attributes:
        strokes: Penalty strokes.
        holes_lost: Which holes are lost: `lost` the hole being played, `first-lost`, `next-lost`.
        holes_deducted: Holes deducted, for what is counted for each hole.
        over_holes: Over how many holes the hole is lost, where a breach is counted for each hole.
        disqualified: Whether the player is disqualified.
        opponent: What the opponent bears, in words.
        words: What the player bears, in words.
    """

    strokes: int | None
    holes_lost: tuple[str, ...] | None
    holes_deducted: int | None
    over_holes: int | None
    disqualified: bool | None
    opponent: str | None
    words: str | None


class SumReadingShape(Shape, frozen=True, kw_only=True):
    """What the acts cost under what is supposed.

    Attributes:
        supposes: What is supposed; none where nothing needs to be.
        stroke_play: In stroke play.
        match_play: In match play.
    """

    supposes: tuple[str, ...]
    stroke_play: StrokePlayTotalShape
    match_play: MatchPlayTotalShape


class TogetherShape(Shape, frozen=True, kw_only=True):
    """What several acts cost together.

    Attributes:
        stroke_play: In stroke play.
        match_play: In match play.
        counts: `highest` or `each`, as the book says of what lies between the acts; null where it hangs on that.
        readings: Every total, with what it supposes.
        asks: What to ask where the totals hang on it.
        says: All of it in words.
        citations: The rules.
    """

    stroke_play: StrokePlayTotalShape
    match_play: MatchPlayTotalShape
    counts: str | None
    readings: tuple[SumReadingShape, ...]
    asks: tuple[str, ...]
    says: str
    citations: tuple[CitationShape, ...]


def together_shape(told: SumTold) -> TogetherShape:
    """What several acts cost together, of those that can be added up."""
    readings = tuple(
        SumReadingShape(
            supposes=tuple(supposal.value for supposal in reading.supposes),
            stroke_play=_in_stroke_play(reading.total),
            match_play=_in_match_play(reading.total),
        )
        for reading in told.found.readings
    )
    counts = {reading.total.counts for reading in told.found.readings}
    return TogetherShape(
        stroke_play=_settled([reading.stroke_play for reading in readings]),
        match_play=_settled([reading.match_play for reading in readings]),
        counts=counts.pop() if len(counts) == 1 else None,
        readings=readings,
        asks=told.asks,
        says=told.says,
        citations=citation_shapes(told.found.citations),
    )


def _in_stroke_play(total: Together) -> StrokePlayTotalShape:
    return StrokePlayTotalShape(
        strokes=total.strokes,
        hole="",
        disqualified=total.is_out,
        other_player_strokes=total.other_strokes,
        words=total.stroke_play_words,
    )


def _in_match_play(total: Together) -> MatchPlayTotalShape:
    match = total.match
    return MatchPlayTotalShape(
        strokes=match.strokes,
        holes_lost=match.holes_lost,
        holes_deducted=match.holes_deducted,
        over_holes=match.over_holes,
        disqualified=match.is_out,
        opponent=total.opponent.words,
        words=total.match_play_words,
    )


def _settled(sides: Sequence[S]) -> S:
    """What every total says alike; null where they differ."""
    first = sides[0]
    return type(first)(**{name: _common([getattr(side, name) for side in sides]) for name in first.__struct_fields__})


def _common(values: Sequence[object]) -> object:
    return values[0] if all(value == values[0] for value in values) else None
