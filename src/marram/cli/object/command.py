"""`marram object`: what a thing met on the course is, and whether it may be moved here and now."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option, rules_line, sources_option, stated_facts
from marram.cli.source_text import end_of_answer
from marram.cli.verdict import asked_lines, not_read_line, settling_line, verdict_lines
from marram.core.terms import Area

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.core.citations import Citation
    from marram.office.play.name_thing import ThingRuled
    from marram.rulings.acts.acts import ActAnswer
    from marram.rulings.acts.objects import ObjectAnswer

_WIDTH = 100
_AREAS = [area.value for area in Area if area is not Area.OUT_OF_BOUNDS]
_MAY = {"yes": "It may be moved.", "no": "It may not be moved.", "not-in-question": "Moving it is not in question."}


@click.command()
@click.argument("thing", required=False)
@books_option
@click.option("--area", type=click.Choice(_AREAS), default="general-area", show_default=True, help="Where it lies together with the ball.")
@click.option("--fact", "facts", multiple=True, metavar="NAME=true|false", help="A fact that is known; may be repeated.")
@click.option("--find", "words", default="", metavar="WORDS", help="Look for things that speak of these words.")
@sources_option
@json_option
def object_(
    thing: str | None, *, books: tuple[str, ...], area: str, facts: tuple[str, ...], words: str, all_sources: bool, as_json: bool
) -> None:
    """Say what a THING is, such as a rake or a stone, whether it may be moved, what follows if it is, and which relief else is open."""
    from marram.answers.rules.object_answer import object_answers, objects_found
    from marram.answers.shape import json_text
    from marram.office.play.name_thing import find_things, rule_on_thing
    from marram.office.workroom import Workroom

    room = Workroom()
    if words:
        found = find_things(room.catalogue, words)
        listed = "\n".join(f"{name:<24}  {means}" for name, means in found) or "Nothing speaks of these words."
        click.echo(json_text(objects_found(found)) if as_json else listed)
        return
    if thing is None:
        raise click.UsageError('Name a thing, or look for one with --find "words".')
    ruled = rule_on_thing(room.books(books), thing, area=Area(area), stated=stated_facts(facts))
    click.echo(json_text(object_answers(ruled)) if as_json else _text(ruled, all_sources=all_sources))


def _text(ruled: Sequence[ThingRuled], *, all_sources: bool) -> str:
    answers = [one.answer for one in ruled]
    cautions = dict.fromkeys(caution.text for answer in answers for caution in answer.cautions)
    parts = [*(fill(f"Caution. {text}", width=_WIDTH, subsequent_indent="   ") for text in cautions), answers[0].means]
    open_facts = [fact for answer in answers for fact in _open_facts(answer)]
    return "\n\n".join(
        [
            *parts,
            *map(_one, ruled),
            *(fill(line, width=_WIDTH, break_on_hyphens=False) for line in settling_line(open_facts)),
            end_of_answer((citation for answer in answers for citation in _cited(answer)), all_sources=all_sources),
        ]
    )


def _acts(answer: ObjectAnswer) -> list[ActAnswer]:
    acts = (answer.moved, answer.ball_moves, answer.put_back, answer.before_replacing, answer.ball_in_motion)
    return [act for act in acts if act is not None]


def _cited(answer: ObjectAnswer) -> list[Citation]:
    return [*answer.citations, *(citation for act in _acts(answer) for citation in act.citations)]


def _open_facts(answer: ObjectAnswer) -> list[str]:
    return [*(other.fact for other in answer.others), *(fact for act in _acts(answer) for turn in act.turns for fact in turn.facts)]


def _one(ruled: ThingRuled) -> str:
    answer = ruled.answer
    others = (((other.question,), f"{other.term}. {_MAY[other.may_be_moved.value]}") for other in answer.others)
    headline, *asked = asked_lines(others, f"{answer.term}. {_MAY[answer.may_be_moved.value]}")
    lines = [f"{answer.book}: {headline}", *asked]
    lines[-1] += f" {rules_line(answer.citations)}"
    lines += not_read_line(answer.book, ruled.facts_not_read)
    lines += _act_lines("Moved", answer.moved)
    lines += _act_lines("If the ball moves with it", answer.ball_moves)
    lines += _act_lines("If it is put back before the stroke", answer.put_back)
    lines += _act_lines("Moved before a ball is put back", answer.before_replacing)
    lines += _act_lines("Moved to affect a ball in motion", answer.ball_in_motion)
    lines += [f"Where it stays in the way: marram rule, situation {', '.join(answer.relief)}."] if answer.relief else []
    lines += [f"Besides: {answer.advice}"] if answer.advice else []
    indents = [("", "   ") if not number else ("   ", "      ") for number in range(len(lines))]
    return "\n".join(
        fill(line, width=_WIDTH, initial_indent=first, subsequent_indent=rest) for line, (first, rest) in zip(lines, indents, strict=True)
    )


def _act_lines(when: str, act: ActAnswer | None) -> list[str]:
    if act is None or act.case is None:
        return []
    return [f"{when}: {' '.join(verdict_lines(act))} [act {act.act}] {rules_line(act.citations)}"]
