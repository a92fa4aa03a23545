"""`marram act`: what an act leads to, under each edition, in stroke play and match play."""

from __future__ import annotations

from dataclasses import dataclass
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.act.forms import asked_in_form, reading_lines, readings_object, readings_of
from marram.cli.act.further_acts import further_acts, further_lines, settling_lines, turns_of_act
from marram.cli.act.sums import added_up, counted, named_acts, own_facts, sum_lines, together_object
from marram.cli.common import books_option, json_option, rules_line, sources_option, stated_facts
from marram.cli.source_text import end_of_answer
from marram.cli.verdict import not_read_line, settling_line, sides_object, verdict_lines

if TYPE_CHECKING:
    from marram.cli.act.forms import ActReading
    from marram.cli.act.further_acts import FurtherAct
    from marram.rulebook.book import Book
    from marram.rulings.acts.acts import ActAnswer
    from marram.rulings.acts.several import SumOfActs
    from marram.rulings.acts.turns import Turn

_WIDTH = 100


@click.command()
@click.argument("act", required=False)
@books_option
@click.option("--fact", "facts", multiple=True, metavar="NAME=true|false", help="A fact that is known; may be repeated.")
@click.option(
    "--also",
    "others",
    multiple=True,
    metavar="ACT[:FACT=true]",
    help="Another act to be added up with this one, with facts of its own after a colon; may be repeated.",
)
@click.option(
    "--between",
    type=click.Choice(["one-act", "related", "unrelated", "no-event", "event", "stroke"]),
    default=None,
    help="What lies between them; left out, every total is told that it makes a difference to.",
)
@click.option("--holes", default=None, type=click.IntRange(1, 36), help="Over how many holes a breach counted by the hole went on.")
@click.option("--form", "form", default="", metavar="FORM", help="How it reads in a form of play, such as stableford; marram form --list.")
@click.option("--match", "is_match", is_flag=True, help="With --form foursomes or four-ball: the sides play a match.")
@click.option("--find", "words", default="", metavar="WORDS", help='Look for acts that speak of these words, such as "touched sand".')
@sources_option
@json_option
def act(
    act: str | None,
    *,
    books: tuple[str, ...],
    facts: tuple[str, ...],
    others: tuple[str, ...],
    between: str | None,
    holes: int | None,
    form: str,
    is_match: bool,
    words: str,
    all_sources: bool,
    as_json: bool,
) -> None:
    """Say what an ACT leads to: penalty in stroke play and match play, what becomes of the stroke and the ball, and by which rule."""
    from marram.core.json_text import dump
    from marram.interchange.books.book_files import read_book
    from marram.rulebook.reading.files import packaged_catalogue
    from marram.rulings.acts.acts import find_acts, known_act, rule_on_act

    catalogue = packaged_catalogue()
    if words:
        found = find_acts(catalogue, words)
        listed = {"acts": [{"act": name, "means": means} for name, means in found]}
        click.echo(
            dump(listed) if as_json else "\n".join(f"{name:<42}  {means}" for name, means in found[:12]) or "No act speaks of these words."
        )
        return
    if act is None:
        raise click.UsageError('Name an act, or look for one with --find "words".')
    name = known_act(catalogue, act)
    opened = [read_book(book) for book in books or tuple(catalogue.editions)]
    stated, not_read = _stated(opened, name, facts)
    answers = [rule_on_act(book, name, own_facts(stated)) for book in opened]
    acts = named_acts(catalogue, opened, (name, stated), others)
    as_summed = [[acts[0], *counted(book, acts, between or "")[1:]] for book in opened]
    told = [
        _Told(
            answer=answer,
            not_read=names,
            total=added_up(book, acts, between or "", holes),
            further=further_acts(book, each, acts),
            readings=readings_of(book, each, form, is_match=is_match),
        )
        for book, answer, names, each in zip(opened, answers, not_read, as_summed, strict=True)
    ]
    click.echo(dump({"books": [_object(one) for one in told]}) if as_json else _text(told, all_sources=all_sources))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """All that is told under one book.

    Attributes:
        answer: What the first act leads to.
        not_read: Facts stated of it that the book does not read.
        total: All acts together; None where there is nothing to add up.
        further: The further acts.
        readings: How the acts read in the form of play asked about; none where none is.
    """

    answer: ActAnswer
    not_read: tuple[str, ...]
    total: SumOfActs | None
    further: list[FurtherAct]
    readings: list[ActReading]

    @property
    def turns(self) -> list[Turn]:
        """What the first act turns on: in the form of play asked about, else in either."""
        return [turn for turn, _ in self.readings[0].turns] if self.readings else list(self.answer.turns)

    @property
    def further_turns(self) -> list[tuple[str, Turn]]:
        """The same of the further acts, with their names."""
        if self.readings:
            return [(entry.act, turn) for entry in self.readings[1:] for turn, _ in entry.turns]
        return [(entry.answer.act, turn) for entry in self.further for turn in entry.answer.turns]


def _object(told: _Told) -> dict[str, object]:
    """All that is told under one book, as outsiders read it; what is asked stands together, each with its act."""
    first = act_object(told.answer) | {"facts_not_read": list(told.not_read)} | together_object(told.total) | readings_object(told.readings)
    also = [act_object(entry.answer) | {"facts_not_read": list(entry.not_read)} for entry in told.further]
    asked = [entry for reading in told.readings for entry in asked_in_form(reading)]
    if not told.readings:
        asked = [entry for answer in (told.answer, *(entry.answer for entry in told.further)) for entry in _asked(answer)]
    return first | {"depends_on": asked} | ({"also": also} if also else {})


def _asked(answer: ActAnswer) -> list[dict[str, object]]:
    return turns_of_act(answer, answer.turns)


def _stated(books: list[Book], act: str, facts: tuple[str, ...]) -> tuple[dict[str, bool], list[tuple[str, ...]]]:
    """The facts stated of an act, and those that each book does not read; one that none of them reads is refused."""
    from marram.rulings.acts.acts import facts_not_read, facts_read, refuse_unread

    read_by = [facts_read([book], act) for book in books]
    stated = stated_facts(facts, books[0].catalogue.facts, read_by)
    known = own_facts(stated)
    refuse_unread(known, read_by, act)
    return stated, [facts_not_read(known, read) for read in read_by]


def act_object(answer: ActAnswer) -> dict[str, object]:
    """What an act leads to, as outsiders read it."""
    from marram.answers.rules.ruling_answer import citation_object
    from marram.rulebook.consequences import plain_cases

    case = answer.case
    return {
        "book": answer.book,
        "stamp": answer.stamp,
        "act": answer.act,
        "means": answer.means,
        **sides_object(answer, case),
        "stroke": None if case is None else case.stroke,
        "ball": None if case is None else case.ball,
        "put_right": None if case is None else case.put_right,
        "put_right_last_hole": None if case is None else answer.last_hole_of(case.put_right),
        "cases": plain_cases(answer.cases),
        "holds_unless": list(answer.holds_unless),
        "depends_on": _asked(answer),
        "depends_on_in": {form.value: turns_of_act(answer, turns) for form, turns in answer.turns_in.items()},
        "why_none": answer.why_none,
        "advice": answer.advice,
        "cautions": [caution.value for caution in answer.cautions],
        "citations": [citation_object(citation) for citation in answer.citations],
    }


def _verdict(told: _Told) -> list[str]:
    """What the acts lead to in lines, each by itself: in the form of play that is asked about, else in both."""
    book = told.answer.book
    if not told.readings:
        headline, *asked = verdict_lines(told.answer)
        return [f"{book}: {headline}", *asked, *further_lines(book, told.further)]
    lines: list[str] = []
    for number, entry in enumerate(told.readings):
        headline, *asked = reading_lines(entry)
        lead = f"Also {entry.act}" if number else f"{book}, in {entry.reading.form.value.replace('-', ' ')}"
        lines += [f"{lead}: {headline}", *asked]
    return lines


def _one(told: _Told) -> str:
    """All that is told under one book, wrapped."""
    answer = told.answer
    lines = [*_verdict(told), *not_read_line(answer.book, told.not_read)]
    lines += sum_lines(told.total, is_open=bool(told.turns or told.further_turns)) if told.total is not None else []
    lines += [f"Besides: {answer.advice}"] if answer.advice else []
    lines += [rules_line(answer.citations)] if answer.citations else []
    return "\n".join(
        fill(line, width=_WIDTH, initial_indent="" if not n else "   ", subsequent_indent="   ") for n, line in enumerate(lines)
    )


def _text(told: list[_Told], *, all_sources: bool) -> str:
    answers = [answer for one in told for answer in (one.answer, *(entry.answer for entry in one.further))]
    cautions = dict.fromkeys(caution.value for answer in answers for caution in answer.cautions)
    parts = [*(fill(f"Caution. {text}", width=_WIDTH, subsequent_indent="   ") for text in cautions), fill(answers[0].means, width=_WIDTH)]
    parts += [_one(one) for one in told]
    asked = settling_line(name for one in told for turn in one.turns for name in turn.facts)
    asked += settling_lines(turn for one in told for turn in one.further_turns)
    parts += [fill(line, width=_WIDTH, break_on_hyphens=False) for line in asked]
    cited = [citation for answer in answers for citation in answer.citations]
    cited += [citation for one in told for entry in one.readings for citation in entry.reading.citations]
    cited += [citation for one in told if one.total is not None for citation in one.total.citations]
    parts.append(end_of_answer(cited, all_sources=all_sources))
    return "\n\n".join(parts)
