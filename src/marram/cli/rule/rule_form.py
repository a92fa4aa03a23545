"""How a ruling reads in the form of play that the incident states, as text and JSON."""

from __future__ import annotations

from marram.cli.common import rules_line
from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulings.acts.form_of_play import FormAnswer, Happening, describe_form

_ASKED = (Happening.PENALTY, Happening.NOT_HOLED_OUT, Happening.PICKED_UP)


def form_member(book: Book, form: Form) -> dict[str, object]:
    """What the form makes of the penalty, and of giving the ball up; nothing in plain stroke play."""
    from marram.cli.form.command import form_object

    return {} if form is Form.STROKE_PLAY else {"form_of_play": form_object(_told(book, form))}


def form_lines(book: Book, form: Form) -> list[str]:
    """The same in words."""
    if form is Form.STROKE_PLAY:
        return []
    answer = _told(book, form)
    named = form.value.replace("-", " ")
    if answer.why_none:
        return ["", f"In {named}: there is no such form in this edition: {answer.why_none}."]
    return ["", f"In {named}", *(f"{line.says} {rules_line(line.citations)}" for line in answer.lines)]


def _told(book: Book, form: Form) -> FormAnswer:
    return describe_form(book, form, _ASKED)
