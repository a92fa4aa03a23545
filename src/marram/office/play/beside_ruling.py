"""What stands beside a ruling: the form of play, where the ball was played from, and the facts that the book does not read."""

from __future__ import annotations

from dataclasses import dataclass

from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulings.acts.acts import ActAnswer, facts_not_read
from marram.rulings.acts.form_of_play import FormAnswer, Happening, describe_form
from marram.rulings.case.facts_of_situation import facts_of_situation
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Ruling
from marram.rulings.drop.wrong_place import HowFarOff, acts_of_wrong_place, how_far_off

_ASKED_OF_FORM = (Happening.PENALTY, Happening.NOT_HOLED_OUT, Happening.PICKED_UP)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedFrom:
    """Where a ball was played, against what was open.

    Attributes:
        off: How far from a right place of each option, nearest first.
        acts: What a stroke from a wrong place leads to, without and with a serious breach.
    """

    off: tuple[HowFarOff, ...]
    acts: tuple[ActAnswer, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenRuling:
    """The ruling of one book, and what stands beside it.

    Attributes:
        book: The book.
        ruling: Its ruling.
        form: What the form of play makes of a penalty, and of giving the ball up; None in plain stroke play.
        played_from: Where the ball was played; None where the incident does not say.
        facts_not_read: Facts stated that the book does not read.
    """

    book: Book
    ruling: Ruling
    form: FormAnswer | None
    played_from: PlayedFrom | None
    facts_not_read: tuple[str, ...]


def with_what_stands_beside(book: Book, ruling: Ruling, incident: Incident) -> GivenRuling:
    """A ruling with what stands beside it.

    Args:
        book: The book.
        ruling: Its ruling.
        incident: What happened.
    """
    is_placed = incident.played_from is not None
    return GivenRuling(
        book=book,
        ruling=ruling,
        form=None if incident.form is Form.STROKE_PLAY else describe_form(book, incident.form, _ASKED_OF_FORM),
        played_from=PlayedFrom(off=how_far_off(ruling), acts=acts_of_wrong_place(book)) if is_placed else None,
        facts_not_read=facts_not_read(incident.facts, facts_of_situation(book, incident.situation)) if incident.facts else (),
    )
