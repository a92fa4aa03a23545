"""`marram act`: what an act leads to, under each edition, in stroke play and match play."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.act_forms import asked_in_form, reading_lines, readings_object, readings_of
from marram.cli.act_sums import added_up, named_acts, own_facts, sum_lines, together_object
from marram.cli.common import books_option, json_option, rules_line, sources_option, stated_facts
from marram.cli.source_text import end_of_answer
from marram.cli.verdict import not_read_line, settling_line, sides_object, turn_objects, verdict_lines

if TYPE_CHECKING:
    from marram.cli.act_forms import ActReading
    from marram.rulebook.book import Book
    from marram.rulings.acts import ActAnswer
    from marram.rulings.several import SumOfActs
    from marram.rulings.turns import Turn

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
    from marram.interchange.answers import dump
    from marram.interchange.book_files import read_book
    from marram.rulebook.files import packaged_catalogue
    from marram.rulings.acts import find_acts, known_act, rule_on_act

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
    added = [added_up(book, acts, between or "", holes) for book in opened]
    readings = [readings_of(book, acts, form, is_match=is_match) for book in opened]
    if as_json:
        objects = [
            act_object(answer) | {"facts_not_read": list(names)} | together_object(total) | readings_object(told) | _asked_object(told)
            for answer, names, total, told in zip(answers, not_read, added, readings, strict=True)
        ]
        click.echo(dump({"books": objects}))
    else:
        click.echo(_text(answers, not_read, added, readings, all_sources=all_sources))


def _asked_object(told: list[ActReading]) -> dict[str, object]:
    """What an answer turns on in the form of play that is asked about; nothing where none is."""
    return {"depends_on": asked_in_form(told[0])} if told else {}


def _stated(books: list[Book], act: str, facts: tuple[str, ...]) -> tuple[dict[str, bool], list[tuple[str, ...]]]:
    """The facts stated of an act, and those that each book does not read; one that none of them reads is refused."""
    from marram.rulings.acts import facts_not_read, facts_read, refuse_unread

    read_by = [facts_read([book], act) for book in books]
    stated = stated_facts(facts, books[0].catalogue.facts, read_by)
    known = own_facts(stated)
    refuse_unread(known, read_by, act)
    return stated, [facts_not_read(known, read) for read in read_by]


def act_object(answer: ActAnswer) -> dict[str, object]:
    """What an act leads to, as outsiders read it."""
    from marram.interchange.answers import citation_object
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
        "depends_on": turn_objects(answer, answer.turns),
        "depends_on_in": {form.value: turn_objects(answer, turns) for form, turns in answer.turns_in.items()},
        "why_none": answer.why_none,
        "advice": answer.advice,
        "cautions": [caution.value for caution in answer.cautions],
        "citations": [citation_object(citation) for citation in answer.citations],
    }


def _turns(answer: ActAnswer, told: list[ActReading]) -> list[Turn]:
    """What an answer turns on: in the form of play that is asked about, else in either."""
    return [turn for turn, _ in told[0].turns] if told else list(answer.turns)


def _verdict(answer: ActAnswer, told: list[ActReading]) -> list[str]:
    """What an act leads to in lines: in the form of play that is asked about, else in both; further acts only where a form is asked."""
    if not told:
        headline, *asked = verdict_lines(answer)
        return [f"{answer.book}: {headline}", *asked]
    lines: list[str] = []
    for entry in told:
        headline, *asked = reading_lines(entry)
        act = f", {entry.act}" if told[1:] else ""
        lines += [f"{answer.book}, in {entry.reading.form.value.replace('-', ' ')}{act}: {headline}", *asked]
    return lines


def _text(
    answers: list[ActAnswer],
    not_read: list[tuple[str, ...]],
    added: list[SumOfActs | None],
    readings: list[list[ActReading]],
    *,
    all_sources: bool,
) -> str:
    cautions = dict.fromkeys(caution.value for answer in answers for caution in answer.cautions)
    parts = [*(fill(f"Caution. {text}", width=_WIDTH, subsequent_indent="   ") for text in cautions), fill(answers[0].means, width=_WIDTH)]
    for answer, names, total, told in zip(answers, not_read, added, readings, strict=True):
        lines = [*_verdict(answer, told), *not_read_line(answer.book, names)]
        lines += sum_lines(total) if total is not None else []
        lines += [f"Besides: {answer.advice}"] if answer.advice else []
        lines += [rules_line(answer.citations)] if answer.citations else []
        parts.append(
            "\n".join(
                fill(line, width=_WIDTH, initial_indent="" if not n else "   ", subsequent_indent="   ") for n, line in enumerate(lines)
            )
        )
    parts += [
        fill(line, width=_WIDTH, break_on_hyphens=False)
        for line in settling_line(
            name for answer, told in zip(answers, readings, strict=True) for turn in _turns(answer, told) for name in turn.facts
        )
    ]
    cited = [citation for answer in answers for citation in answer.citations]
    cited += [citation for told in readings for entry in told for citation in entry.reading.citations]
    cited += [citation for total in added if total is not None for citation in total.citations]
    parts.append(end_of_answer(cited, all_sources=all_sources))
    return "\n\n".join(parts)
