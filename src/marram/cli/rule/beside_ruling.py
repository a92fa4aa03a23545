"""What stands beside a ruling: the form of play, where the ball was played from, and the facts that the book does not read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marram.cli.rule.played_from import wrong_place_lines, wrong_place_object
from marram.cli.rule.rule_form import form_lines, form_member
from marram.cli.verdict import not_read_line

if TYPE_CHECKING:
    from marram.rulebook.book import Book
    from marram.rulings.case.incident import Incident
    from marram.rulings.case.ruling import Ruling


def beside_member(book: Book, ruling: Ruling, incident: Incident) -> dict[str, object]:
    """What stands beside a ruling, as outsiders read it."""
    not_read = {"facts_not_read": list(_not_read(book, incident))}
    return form_member(book, incident.form) | wrong_place_object(book, ruling, incident.played_from) | not_read


def beside_lines(book: Book, ruling: Ruling, incident: Incident) -> list[str]:
    """What stands beside a ruling, in lines."""
    return [
        *form_lines(book, incident.form),
        *wrong_place_lines(book, ruling, incident.played_from),
        *not_read_line(book.name, _not_read(book, incident)),
    ]


def _not_read(book: Book, incident: Incident) -> tuple[str, ...]:
    from marram.rulings.acts.acts import facts_not_read
    from marram.rulings.case.facts_of_situation import facts_of_situation

    return facts_not_read(incident.facts, facts_of_situation(book, incident.situation))
