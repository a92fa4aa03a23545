"""A season ruled again, as outsiders read it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape
from marram.office.trials.rerule import area_m2, distance_m

if TYPE_CHECKING:
    from marram.office.trials.rerule import Reruled, RuledAgain
    from marram.rulings.case.ruling import Option, Ruling

_BALLS = "These are the balls that came up; what players would have done under the other book is another matter."


class RuledOptionShape(Shape, frozen=True, kw_only=True):
    """An option in short.

    Attributes:
        procedure: Its procedure.
        penalty_strokes: Penalty strokes.
        area_m2: Size of its relief area; null where it has none.
        distance_m: How far its first reference point is from the ball; null where that is not known.
    """

    procedure: str
    penalty_strokes: int
    area_m2: float | None
    distance_m: float | None


class RuledUnderShape(Shape, frozen=True, kw_only=True):
    """A ball under one book.

    Attributes:
        book: The book.
        options: Its options.
        questions: What would have to be asked.
    """

    book: str
    options: tuple[RuledOptionShape, ...]
    questions: tuple[str, ...]


class RuledAgainShape(Shape, frozen=True, kw_only=True):
    """A ball under both books.

    Attributes:
        id: Its name in the log.
        books: Its rulings: under the book of the log, then under the other.
        changed: What differs: `options`, `penalty`, `area`, `distance`; null where a book cannot tell before a fact is known.
    """

    id: str
    books: tuple[RuledUnderShape, RuledUnderShape]
    changed: tuple[str, ...] | None


class RateShape(Shape, frozen=True, kw_only=True):
    """A rate per 100 rounds.

    Attributes:
        estimate: The rate.
        interval95: Its exact 95 % limits.
    """

    estimate: float
    interval95: tuple[float, float]


class RerulingAnswer(Answer, frozen=True, kw_only=True):
    """The logged balls of a season under another book (`marram trial rerule`).

    Attributes:
        schema: Name and version of this shape.
        incidents: Each ball.
        changed: How many rulings differ.
        cannot_tell: Of how many nobody can tell before a fact is known.
        rounds: In how many rounds they came up; null where nobody counted.
        per_100_rounds: Changed rulings per 100 rounds; null where the rounds are not known.
        remark: What this does not say.
    """

    schema: Literal["marram.rerule/1"] = "marram.rerule/1"
    incidents: tuple[RuledAgainShape, ...]
    changed: int
    cannot_tell: int
    rounds: int | None
    per_100_rounds: RateShape | None
    remark: str


def reruling_answer(found: Reruled) -> RerulingAnswer:
    """A season ruled again."""
    interval = found.per_100_interval95
    rate = None
    if found.per_100 is not None and interval is not None:
        rate = RateShape(estimate=round(found.per_100, 4), interval95=(round(interval.low, 4), round(interval.high, 4)))
    return RerulingAnswer(
        incidents=tuple(map(_ball, found.incidents)),
        changed=found.changed,
        cannot_tell=found.cannot_tell,
        rounds=found.rounds,
        per_100_rounds=rate,
        remark=_BALLS,
    )


def _ball(entry: RuledAgain) -> RuledAgainShape:
    before, after = entry.rulings
    changed = None if entry.changed is None else tuple(word.value for word in entry.changed)
    return RuledAgainShape(id=entry.id, books=(_under(before), _under(after)), changed=changed)


def _under(ruling: Ruling) -> RuledUnderShape:
    return RuledUnderShape(
        book=ruling.book,
        options=tuple(map(_option, ruling.options)),
        questions=tuple(question.question for question in ruling.facts_needed),
    )


def _option(option: Option) -> RuledOptionShape:
    area, away = area_m2(option), distance_m(option)
    return RuledOptionShape(
        procedure=option.procedure,
        penalty_strokes=option.penalty_strokes,
        area_m2=None if area is None else round(area, 4),
        distance_m=None if away is None else round(away, 3),
    )
