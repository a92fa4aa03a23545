"""`marram act`: what an act leads to, under each edition, in stroke play and match play."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.act.forms import reading_lines
from marram.cli.act.further_acts import further_lines, settling_lines
from marram.cli.act.sums import act_and_facts, sum_lines
from marram.cli.common import books_option, json_option, rules_line, sources_option, stated_facts
from marram.cli.event.log_options import Logging, OpenLog, logged_text, logging_options
from marram.cli.fields import in_options
from marram.cli.source_text import end_of_answer
from marram.cli.verdict import not_read_line, settling_line, verdict_lines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.office.play.rule_on_acts import ActsRuled

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
@logging_options
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
    logging: Logging,
    all_sources: bool,
    as_json: bool,
) -> None:
    """Say what an ACT leads to: penalty in stroke play and match play, what becomes of the stroke and the ball, and by which rule."""
    from marram.answers.rules.acts_answer import act_answers, acts_found
    from marram.answers.shape import json_text
    from marram.office.play.rule_on_acts import StatedAct, find_acts, rule_on_acts
    from marram.office.workroom import Workroom

    room = Workroom()
    if words:
        found = find_acts(room.catalogue, words)
        listed = "\n".join(f"{name:<42}  {means}" for name, means in found[:12]) or "No act speaks of these words."
        click.echo(json_text(acts_found(found)) if as_json else listed)
        return
    if act is None:
        raise click.UsageError('Name an act, or look for one with --find "words".')
    typed = [(act, stated_facts(facts)), *map(act_and_facts, others)]
    stated = [StatedAct(act=name, facts=pairs) for name, pairs in typed]
    log = OpenLog(logging, room)
    ruled = rule_on_acts(log.books(books), stated, between=between or "", holes=holes, form=log.form(form), is_match=is_match)
    logged = log.log_act(ruled[0], typed[0][1])
    text = json_text(act_answers(ruled, in_options, logged)) if as_json else _text(ruled, all_sources=all_sources) + logged_text(logged)
    click.echo(text)


def _verdict(told: ActsRuled) -> list[str]:
    """What the acts lead to in lines, each by itself: in the form of play that is asked about, else in both."""
    book = told.first.answer.book
    if not told.readings:
        headline, *asked = verdict_lines(told.first.answer)
        return [f"{book}: {headline}", *asked, *further_lines(book, told.further)]
    lines: list[str] = []
    for number, entry in enumerate(told.readings):
        headline, *asked = reading_lines(entry)
        lead = f"Also {entry.act}" if number else f"{book}, in {entry.reading.form.words}"
        lines += [f"{lead}: {headline}", *asked]
    return lines


def _one(told: ActsRuled) -> str:
    """All that is told under one book, wrapped."""
    answer = told.first.answer
    lines = [*_verdict(told), *not_read_line(answer.book, told.first.facts_not_read)]
    lines += sum_lines(told.total, is_open=bool(told.turns or told.further_turns)) if told.total is not None else []
    lines += [f"Besides: {answer.advice}"] if answer.advice else []
    lines += [rules_line(answer.citations)] if answer.citations else []
    return "\n".join(
        fill(line, width=_WIDTH, initial_indent="" if not n else "   ", subsequent_indent="   ") for n, line in enumerate(lines)
    )


def _text(told: Sequence[ActsRuled], *, all_sources: bool) -> str:
    answers = [answer for one in told for answer in one.answers]
    cautions = dict.fromkeys(caution.value for answer in answers for caution in answer.cautions)
    parts = [*(fill(f"Caution. {text}", width=_WIDTH, subsequent_indent="   ") for text in cautions), fill(answers[0].means, width=_WIDTH)]
    parts += [_one(one) for one in told]
    asked = settling_line(name for one in told for turn in one.turns for name in turn.facts)
    asked += settling_lines(turn for one in told for turn in one.further_turns)
    parts += [fill(line, width=_WIDTH, break_on_hyphens=False) for line in asked]
    cited = [citation for answer in answers for citation in answer.citations]
    cited += [citation for one in told for entry in one.readings for citation in entry.reading.citations]
    cited += [citation for one in told if one.total is not None for citation in one.total.found.citations]
    parts.append(end_of_answer(cited, all_sources=all_sources))
    return "\n\n".join(parts)
