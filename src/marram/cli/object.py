"""`marram object`: what a thing met on the course is, and whether it may be moved here and now."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option, rules_line, stated_facts
from marram.core.terms import ADVICE, Area

if TYPE_CHECKING:
    from marram.rulings.acts import ActAnswer
    from marram.rulings.objects import ObjectAnswer

_WIDTH = 100
_AREAS = [area.value for area in Area if area is not Area.OUT_OF_BOUNDS]
_MAY = {"yes": "It may be moved.", "no": "It may not be moved.", "not-in-question": "Moving it is not in question."}


@click.command()
@click.argument("thing", required=False)
@books_option
@click.option("--area", type=click.Choice(_AREAS), default="general-area", show_default=True, help="Where it lies together with the ball.")
@click.option("--fact", "facts", multiple=True, metavar="NAME=true|false", help="A fact that is known; may be repeated.")
@click.option("--find", "words", default="", metavar="WORDS", help="Look for things that speak of these words.")
@json_option
def object_(thing: str | None, *, books: tuple[str, ...], area: str, facts: tuple[str, ...], words: str, as_json: bool) -> None:
    """Say what a THING is, such as a rake or a stone, whether it may be moved, what follows if it is, and which relief else is open."""
    from marram.interchange.answers import dump
    from marram.interchange.book_files import read_book
    from marram.rulebook.files import packaged_catalogue
    from marram.rulings.objects import find_things, known_thing, refuse_unread_of_object, rule_on_object

    catalogue = packaged_catalogue()
    if words:
        found = find_things(catalogue, words)
        listed = {"objects": [{"object": name, "means": means} for name, means in found]}
        click.echo(
            dump(listed) if as_json else "\n".join(f"{name:<24}  {means}" for name, means in found) or "Nothing speaks of these words."
        )
        return
    if thing is None:
        raise click.UsageError('Name a thing, or look for one with --find "words".')
    name, known = known_thing(catalogue, thing), stated_facts(facts)
    opened = [read_book(book) for book in books or tuple(catalogue.editions)]
    refuse_unread_of_object(opened, name, known)
    answers = [rule_on_object(book, name, Area(area), known) for book in opened]
    click.echo(dump({"books": [object_object(answer) for answer in answers]}) if as_json else _text(answers))


def object_object(answer: ObjectAnswer) -> dict[str, object]:
    """What the thing is, as outsiders read it."""
    from marram.cli.act import act_object
    from marram.interchange.answers import citation_object

    def told(act: ActAnswer | None) -> dict[str, object] | None:
        return None if act is None else act_object(act)

    return {
        "book": answer.book,
        "stamp": answer.stamp,
        "object": answer.thing,
        "means": answer.means,
        "kind": answer.kind,
        "term": answer.term,
        "may_be_moved": answer.may_be_moved.value,
        "if_moved": told(answer.moved),
        "if_ball_moves": told(answer.ball_moves),
        "if_put_back": told(answer.put_back),
        "if_moved_before_replacing": told(answer.before_replacing),
        "if_ball_in_motion": told(answer.ball_in_motion),
        "relief_situations": list(answer.relief),
        "advice": answer.advice,
        "holds_unless": list(answer.holds_unless),
        "cautions": [caution.text for caution in answer.cautions],
        "citations": [citation_object(citation) for citation in answer.citations],
    }


def _text(answers: list[ObjectAnswer]) -> str:
    cautions = dict.fromkeys(caution.text for answer in answers for caution in answer.cautions)
    parts = [*(fill(f"Caution. {text}", width=_WIDTH, subsequent_indent="   ") for text in cautions), answers[0].means]
    return "\n\n".join([*parts, *map(_one, answers), ADVICE])


def _one(answer: ObjectAnswer) -> str:
    unless = f" (unless {', '.join(answer.holds_unless)})" if answer.holds_unless else ""
    lines = [f"{answer.book}: {answer.term}{unless}. {_MAY[answer.may_be_moved.value]} {rules_line(answer.citations)}"]
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
    unless = f" Holds unless: {', '.join(act.holds_unless)}." if act.holds_unless else ""
    return [f"{when}: {act.case.sentence}{unless} [act {act.act}] {rules_line(act.citations)}"]
