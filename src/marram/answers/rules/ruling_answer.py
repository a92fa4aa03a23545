"""A ruling as outsiders read it: options with the exact ground, what is closed, what is to be asked, and every line with its rule."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import msgspec

from marram.answers.citation_answer import CitationShape, citation_shapes
from marram.answers.courses.day_answer import DayShape, day_shape
from marram.answers.events.logged_answer import LoggedShape
from marram.answers.rules.form_answer import FormShape, form_shape
from marram.answers.rules.option_answer import OptionShape, option_shape
from marram.answers.rules.right_place_answer import PlayedFromShape, played_from_shape
from marram.answers.shape import UNSET, Answer, Shape, UnsetType

if TYPE_CHECKING:  # what rules on ground is loaded only where there is some
    from collections.abc import Mapping

    from marram.course.frame import Frame
    from marram.office.play.beside_ruling import GivenRuling
    from marram.office.play.give_ruling import Rulings
    from marram.rulings.case.ruling import Caution, NotAvailable, Question, Ruling, RulingLine


class NotAvailableShape(Shape, frozen=True, kw_only=True):
    """A relief that is not open.

    Attributes:
        procedure: The relief.
        title: What the edition calls it.
        because: Why it is not open.
        citations: The rules.
    """

    procedure: str
    title: str
    because: str
    citations: tuple[CitationShape, ...]


class QuestionShape(Shape, frozen=True, kw_only=True):
    """A fact that the ruling waits for.

    Attributes:
        fact: Name of the fact.
        question: The question that settles it.
        answers: The words of which one is the answer; none where it is yes or no, a place, a length or a side.
        opens: Reliefs that the answer could open.
    """

    fact: str
    question: str
    answers: tuple[str, ...]
    opens: tuple[str, ...]


class LineOfRulingShape(Shape, frozen=True, kw_only=True):
    """One sentence of a ruling with the rule behind it.

    Attributes:
        text: The sentence, in the edition's own terms.
        status: What became of it.
        citations: The rules; at least one.
    """

    text: str
    status: str
    citations: tuple[CitationShape, ...]


class CautionShape(Shape, frozen=True, kw_only=True):
    """What comes before any ruling.

    Attributes:
        text: The caution.
        citations: The rules.
    """

    text: str
    citations: tuple[CitationShape, ...]


class RulingShape(Shape, frozen=True, kw_only=True):
    """The ruling of one book.

    Attributes:
        book: The book.
        title: Its documents.
        stamp: Its stamp.
        options: What the player may do, in the order of the Rules.
        not_available: What is not open, and why.
        facts_needed: What is still to be asked.
        lines: The reasons.
        cautions: What comes before any ruling.
        form_of_play: How penalty and giving up read in the form of play that the incident states; left out in plain stroke play.
        played_from: Where the ball was played; left out where the incident does not say.
        facts_not_read: Facts stated that the book does not read.
    """

    book: str
    title: str
    stamp: str
    options: tuple[OptionShape, ...]
    not_available: tuple[NotAvailableShape, ...]
    facts_needed: tuple[QuestionShape, ...]
    lines: tuple[LineOfRulingShape, ...]
    cautions: tuple[CautionShape, ...]
    form_of_play: FormShape | UnsetType = UNSET
    played_from: PlayedFromShape | UnsetType = UNSET
    facts_not_read: tuple[str, ...]


class RulingAnswers(Answer, frozen=True, kw_only=True):
    """What the player may do, for what penalty, and exactly where, under each book.

    Attributes:
        schema: Name and version of this shape.
        books: One entry for each book asked.
        today: What of the course is of the day and not of the survey; left out where no such file was given.
        logged: The ruling as it was logged in an event; left out where none was.
    """

    schema: Literal["marram.rule/1"] = "marram.rule/1"
    books: tuple[RulingShape, ...]
    today: DayShape | UnsetType = UNSET
    logged: LoggedShape | UnsetType = UNSET


class SituationShape(Shape, frozen=True, kw_only=True):
    """A situation that an incident may state.

    Attributes:
        situation: Its name.
        means: What it is.
    """

    situation: str
    means: str


class Situations(Answer, frozen=True, kw_only=True):
    """The situations that an incident may state.

    Attributes:
        schema: Name and version of this shape.
        situations: The situations.
    """

    schema: Literal["marram.situations/1"] = "marram.situations/1"
    situations: tuple[SituationShape, ...]


def ruling_answers(rulings: Rulings, logged: LoggedShape | None = None) -> RulingAnswers:
    """The rulings of all books, with what was logged of them."""
    frame = rulings.course.frame
    return RulingAnswers(
        books=tuple(_given(given, frame) for given in rulings.given),
        today=UNSET if rulings.day is None else day_shape(rulings.day, frame),
        logged=UNSET if logged is None else logged,
    )


def situation_list(known: Mapping[str, str]) -> Situations:
    """The situations that an incident may state, with what each means."""
    return Situations(situations=tuple(SituationShape(situation=name, means=means) for name, means in known.items()))


def ruling_shape(ruling: Ruling, frame: Frame, facts_not_read: tuple[str, ...] = ()) -> RulingShape:
    """The ruling of one book by itself."""
    return RulingShape(
        book=ruling.book,
        title=ruling.title,
        stamp=ruling.stamp,
        options=tuple(option_shape(option, frame, ruling.area_words) for option in ruling.options),
        not_available=tuple(map(_closed, ruling.not_available)),
        facts_needed=tuple(map(_question, ruling.facts_needed)),
        lines=tuple(map(_line, ruling.lines)),
        cautions=tuple(map(_caution, ruling.cautions)),
        facts_not_read=facts_not_read,
    )


def _given(given: GivenRuling, frame: Frame) -> RulingShape:
    """The ruling of one book with what stands beside it."""
    return msgspec.structs.replace(
        ruling_shape(given.ruling, frame, given.facts_not_read),
        form_of_play=UNSET if given.form is None else form_shape(given.form),
        played_from=UNSET if given.played_from is None else played_from_shape(given.played_from),
    )


def _closed(entry: NotAvailable) -> NotAvailableShape:
    return NotAvailableShape(
        procedure=entry.procedure, title=entry.title, because=entry.because, citations=citation_shapes(entry.citations)
    )


def _question(entry: Question) -> QuestionShape:
    return QuestionShape(fact=entry.fact, question=entry.question, answers=entry.answers, opens=entry.opens)


def _line(line: RulingLine) -> LineOfRulingShape:
    return LineOfRulingShape(text=line.text, status=line.status.value, citations=citation_shapes(line.citations))


def _caution(caution: Caution) -> CautionShape:
    return CautionShape(text=caution.text, citations=citation_shapes(caution.citations))
