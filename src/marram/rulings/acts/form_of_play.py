"""Forms of play in the terms of the Rules: what happens in each, and how the consequence of an act reads in it."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum

from marram.core.citations import Citation, merged
from marram.core.errors import DataError
from marram.core.field_names import Field
from marram.core.terms import Form
from marram.rulebook.book import Book
from marram.rulebook.placeholders import OWN
from marram.rulebook.values import PartType
from marram.rulebook.wording.explain import fill, told_text

FAMILY, SAYS = "form", "form-says"


class Happening(StrEnum):
    """What an official may ask of a form of play."""

    COUNTING = "counting"
    PENALTY = "penalty"
    CONCEDED = "conceded"
    NOT_HOLED_OUT = "not-holed-out"
    PICKED_UP = "picked-up"
    LOST = "lost"
    HOLE_ENDS = "hole-ends"
    SPARED = "spared"
    CLUBS = "too-many-clubs"
    LATE = "late-start"
    DELAY = "delay"
    IN_DOUBT = "in-doubt"
    STOPPED = "hopeless-ball-stopped"
    OUT_OF_TURN = "out-of-turn"
    LOW_SCORE = "low-score-without-effect"
    ROUND_ENDS = "round-ends"
    PARTICULARS = "particulars"


_PARTS: dict[Happening, tuple[str, ...]] = {
    Happening.COUNTING: ("counts", "wins"),
    Happening.PENALTY: ("takes_after", "bears_penalty"),
    Happening.CONCEDED: ("may_concede",),
    Happening.NOT_HOLED_OUT: ("not_holed_out",),
    Happening.PICKED_UP: ("picked_up",),
    Happening.CLUBS: ("clubs_as", "clubs_each", "clubs_most", "must_report"),
    Happening.LATE: ("late_as", "late_amount", "must_report"),
    Happening.DELAY: ("delay_as", "delay_first", "delay_second", "must_report"),
    Happening.IN_DOUBT: ("in_doubt", "agreement_stands"),
    Happening.STOPPED: ("hopeless_ball_stopped",),
    Happening.OUT_OF_TURN: ("out_of_turn",),
    Happening.LOW_SCORE: ("low_score_without_effect_is_free",),
}
_LISTS = {
    Happening.LOST: ("lost_ball", "A lost ball: {}.", ", or "),
    Happening.HOLE_ENDS: ("hole_ends", "The hole ends when {}.", ", or when "),
    Happening.ROUND_ENDS: ("round_ends", "The round ends when {}.", ", or when "),
}
_PARTICULARS = {
    Form.MATCH_PLAY: ("match-end",),
    Form.STROKE_PLAY: ("card-certifying",),
    Form.STABLEFORD: ("stableford-points", "card-certifying"),
    Form.MAXIMUM_SCORE: ("maximum-score", "card-certifying"),
    Form.PAR_BOGEY: ("card-certifying",),
    Form.FOURSOMES: ("foursomes-order",),
    Form.FOUR_BALL: ("four-ball-side",),
    Form.THREE_BALL: ("three-ball-matches", "match-end"),
}
_BESIDES = {(Form.THREE_BALL, Happening.OUT_OF_TURN): ("three-ball-matches", "recalled_in_one")}
"""What a form has of its own besides, where the same is asked of it."""
_IN_ALL_FORMS = ("trial-round",)


@dataclass(frozen=True, slots=True, kw_only=True)
class FormLine:
    """One thing that is so in a form of play.

    Attributes:
        happening: What it is about.
        says: What is so, in words.
        values: The values of the rule data behind it, by part.
        citations: The rules.
    """

    happening: Happening
    says: str
    values: dict[str, str | bool | float | tuple[str, ...]]
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FormAnswer:
    """What a book says of a form of play.

    Attributes:
        book: Name of the book.
        stamp: Its stamp.
        form: The form.
        means: What the form is.
        why_none: Why the book has no such form; empty where it has.
        lines: What is so in it.
        not_stated: What was asked and the book does not state.
    """

    book: str
    stamp: str
    form: Form
    means: str
    why_none: str
    lines: tuple[FormLine, ...]
    not_stated: tuple[Happening, ...]


def known_form(name: str) -> Form:
    """The form of that name.

    Raises:
        DataError: There is no such form; the error names the nearest three.
    """
    if name in list(Form):
        return Form(name)
    near = ", ".join(get_close_matches(name, list(Form), n=3, cutoff=0.0))
    raise DataError(f"There is no form of play {name!r}.", where="form", hint=f"Nearest: {near}.")


def known_happening(name: str) -> Happening:
    """What is asked of a form.

    Raises:
        DataError: Nothing of that name can be asked; the error names the nearest three.
    """
    if name in list(Happening):
        return Happening(name)
    near = ", ".join(get_close_matches(name, list(Happening), n=3, cutoff=0.0))
    raise DataError(f"{name!r} cannot be asked of a form of play.", field=Field.HAPPENS, hint=f"Nearest: {near}.")


def describe_form(book: Book, form: Form, happenings: tuple[Happening, ...] = tuple(Happening)) -> FormAnswer:
    """Say what is so in a form of play.

    Args:
        book: The book.
        form: The form.
        happenings: What is asked; everything where nothing is chosen.
    """
    row = f"{FAMILY}.{form.value}"
    lines: list[FormLine] = []
    not_stated: list[Happening] = []
    for happening in happenings if book.has_row(row) else ():
        line = None if happening is Happening.PARTICULARS else _line(book, row, happening)
        found = _particulars(book, form) if happening is Happening.PARTICULARS else [line] if line is not None else []
        lines += found
        not_stated += [] if found else [happening]
    return FormAnswer(
        book=book.name,
        stamp=book.stamp,
        form=form,
        means=book.catalogue.rows[row].means,
        why_none=book.why_absent(row),
        lines=tuple(lines),
        not_stated=tuple(not_stated),
    )


def _line(book: Book, row: str, happening: Happening) -> FormLine | None:
    if happening is Happening.SPARED:
        return _spared(book, row)
    if happening in _LISTS:
        return _listed(book, row, happening)
    places = [(_speaking(book, row, part), part) for part in _PARTS[happening]]
    held = [(place, part) for place, part in [*places, *_besides(row, happening)] if book.has(f"{place}.{part}")]
    if not held or [part for _, part in held] == ["must_report"]:
        return None
    values = {part: _value(book, f"{place}.{part}") for place, part in held}
    said = [said_of(book, place, part, values[part]) for place, part in held]
    cited = [book.cited(f"{place}.{part}").citations for place, part in held]
    return FormLine(happening=happening, says=" ".join(text for text in said if text), values=values, citations=merged(*cited))


def _speaking(book: Book, row: str, part: str) -> str:
    """The form that speaks of a part: its own row, or match play where it is that and states nothing else."""
    takes_after = f"{row}.takes_after"
    is_match = book.has(takes_after) and book.word(takes_after).value == Form.MATCH_PLAY.value
    return row if book.has(f"{row}.{part}") or not is_match else f"{FAMILY}.{Form.MATCH_PLAY.value}"


def _besides(row: str, happening: Happening) -> list[tuple[str, str]]:
    return [place for (form, asked), place in _BESIDES.items() if row == f"{FAMILY}.{form.value}" and asked is happening]


def _value(book: Book, key: str) -> str | bool | float | tuple[str, ...]:
    value = book.cited(key).value
    return value if isinstance(value, str | bool | int | float) else book.words(key).value


def said_of(book: Book, row: str, part: str, value: object) -> str:
    """A value of a part in words; empty where there are none."""
    name = f"{part}-{'yes' if value is True else 'no' if value is False else value}"
    key = f"{SAYS}.{name}"
    return fill(book, book.word(key).value, {OWN: row}) if name in book.catalogue.rows[SAYS].parts else ""


def _listed(book: Book, row: str, happening: Happening) -> FormLine | None:
    part, sentence, joint = _LISTS[happening]
    place = _speaking(book, row, part)
    if not book.has(f"{place}.{part}"):
        return None
    found = book.words(f"{place}.{part}")
    says = sentence.format(joint.join(told_text(book, f"{SAYS}.{part}-{word}") for word in found.value))
    return FormLine(happening=happening, says=says, values={part: found.value}, citations=found.citations)


def _particulars(book: Book, form: Form) -> list[FormLine]:
    """What an edition states for this form alone, such as the table of points, and for its card or its partners."""
    lines = []
    for row in (book.catalogue.rows[name] for name in (*_PARTICULARS[form], *_IN_ALL_FORMS) if book.has_row(name)):
        values = {part: _value(book, f"{row.id}.{part}") for part in row.parts if book.has(f"{row.id}.{part}")}
        told = "; ".join(f"{row.parts[part].means}: {_plain(value, row.parts[part].type)}" for part, value in values.items())
        cited = merged(*(book.cited(f"{row.id}.{part}").citations for part in values))
        says = f"{row.means} {told[0].upper()}{told[1:]}."
        lines.append(FormLine(happening=Happening.PARTICULARS, says=says, values=values, citations=cited))
    return lines


def _plain(value: str | bool | float | tuple[str, ...], kind: PartType) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:g}"
    told = ", ".join(value) if isinstance(value, tuple) else value
    # An act keeps the name under which it can be asked for.
    return told if kind is PartType.ROWS else told.replace("-", " ")


def spared_said(book: Book, row: str) -> str:
    """What takes the place of disqualification in a form of play; empty where an unfinished hole itself disqualifies there."""
    key = f"{SAYS}.spared-{book.word(f'{row}.not_holed_out').value}"
    return told_text(book, key) if key in book.catalogue.keys else ""


def _spared(book: Book, row: str) -> FormLine | None:
    """Acts that cost only the hole."""
    if not book.has(f"{row}.spares") or not (found := book.words(f"{row}.spares")).value:
        return None
    heading = spared_said(book, row)
    if not heading:
        return None
    return FormLine(
        happening=Happening.SPARED,
        says=f"{heading}: {', '.join(found.value)}.",
        values={"spares": found.value},
        citations=found.citations,
    )
