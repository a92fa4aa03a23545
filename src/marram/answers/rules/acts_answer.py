"""Acts as outsiders read them: what each leads to, what they cost together, and those that were found by words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from marram.answers.events.logged_answer import LoggedShape
from marram.answers.rules.act_answer import ActShape, TurnShape, act_shape, turn_shapes
from marram.answers.rules.reading_answer import reading_shape
from marram.answers.rules.together_answer import together_shape
from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from marram.office.play.read_acts import ActReading
    from marram.office.play.rule_on_acts import ActRuled, ActsRuled


class ActAnswers(Answer, frozen=True, kw_only=True):
    """What an act leads to, with further acts added up, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
        logged: The ruling as it was logged in an event; left out where none was.
    """

    schema: Literal["marram.act/1"] = "marram.act/1"
    books: tuple[ActShape, ...]
    logged: LoggedShape | UnsetType = UNSET


class FoundActShape(Shape, frozen=True, kw_only=True):
    """An act that speaks of the words.

    Attributes:
        act: Its name.
        means: What it is.
    """

    act: str
    means: str


class ActsFound(Answer, frozen=True, kw_only=True):
    """Acts that speak of some words, those that fit best first.

    Attributes:
        schema: Name and version of this shape.
        acts: The acts.
    """

    schema: Literal["marram.acts-found/1"] = "marram.acts-found/1"
    acts: tuple[FoundActShape, ...]


def act_answers(ruled: Iterable[ActsRuled], tell: Callable[[str], str] = str, logged: LoggedShape | None = None) -> ActAnswers:
    """What acts lead to under each book.

    Args:
        ruled: The acts.
        tell: Turns the fields that a text names into what the reader fills in.
        logged: The ruling as it was logged; None where none was.
    """
    return ActAnswers(books=tuple(_under(one, tell) for one in ruled), logged=UNSET if logged is None else logged)


def acts_found(found: Iterable[tuple[str, str]]) -> ActsFound:
    """Acts that were found, with what they mean."""
    return ActsFound(acts=tuple(FoundActShape(act=act, means=means) for act, means in found))


def _under(ruled: ActsRuled, tell: Callable[[str], str]) -> ActShape:
    """All that is told under one book; what is asked stands together, each with its act."""
    total, readings = ruled.total, ruled.readings
    why_not = "" if total is None else total.found.why_not
    asked = map(_asked_in_form, readings) if readings else (turn_shapes(answer, answer.turns) for answer in ruled.answers)
    return msgspec.structs.replace(
        _by_itself(ruled.first),
        depends_on=tuple(turn for turns in asked for turn in turns),
        together=UNSET if total is None else None if why_not else together_shape(total),
        together_why_not=tell(why_not) if why_not else UNSET,
        reads=reading_shape(readings[0].reading) if readings else UNSET,
        each_reads=tuple(reading_shape(entry.reading, entry.act) for entry in readings) if readings[1:] else UNSET,
        also=tuple(map(_by_itself, ruled.further)) or UNSET,
    )


def _by_itself(ruled: ActRuled) -> ActShape:
    return msgspec.structs.replace(act_shape(ruled.answer), facts_not_read=ruled.facts_not_read)


def _asked_in_form(told: ActReading) -> tuple[TurnShape, ...]:
    """What the reading of an act turns on in its form, each with how it then reads."""
    shapes = turn_shapes(told.answer, (turn for turn, _ in told.turns))
    return tuple(msgspec.structs.replace(shape, reads=reading_shape(read)) for shape, (_, read) in zip(shapes, told.turns, strict=True))
