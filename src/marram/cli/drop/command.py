"""`marram drop`: what follows in a drop."""

from __future__ import annotations

from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option, rules_line, sources_option
from marram.cli.source_text import end_of_answer

if TYPE_CHECKING:
    from marram.office.forecasts.tell_drop_chances import DropsAsked
    from marram.rulings.drop.dropping import DropAnswer

_WIDTH = 100


@click.command()
@books_option
@click.option("--procedure", default="", metavar="P", help="The relief that is dropped for: marram book list shows the rows.")
@click.option("--events", default="", metavar="A,B,…", help="What happened, in order; --list names the events.")
@click.option("--list", "is_list", is_flag=True, help="List the events.")
@click.option("--chances", "is_chances", is_flag=True, help="How often a ball is dropped again or placed, from a model of its roll.")
@click.option("--from", "height", default="", metavar="H", help="Height of --chances: knee, shoulder or such as 1.2m; each book's own.")
@click.option("--slope", "slope_deg", default=5.0, show_default=True, type=float, help="Slope of the ground for --chances, degrees.")
@click.option("--ground", default="fairway", show_default=True, metavar="G", help="Ground: green, fairway, light-rough, deep-rough.")
@click.option(
    "--field", type=click.Path(exists=True, path_type=Path, dir_okay=False), help="Measured drops that --chances fits its ground to."
)
@click.option("--count", default=10_000, show_default=True, type=int, help="Reliefs that --chances plays through.")
@click.option("--seed", default=1, show_default=True, type=click.IntRange(0), help="Seed of --chances.")
@sources_option
@json_option
def drop(
    *,
    books: tuple[str, ...],
    procedure: str,
    events: str,
    is_list: bool,
    is_chances: bool,
    height: str,
    slope_deg: float,
    ground: str,
    field: Path | None,
    count: int,
    seed: int,
    all_sources: bool,
    as_json: bool,
) -> None:
    """Say where a drop stands after its events and what to do next, under each book; or with --chances what becomes of drops."""
    from marram.answers.rules.drop_answer import drop_answers, drop_events
    from marram.answers.shape import json_text
    from marram.office.play.follow_drop import follow_drop
    from marram.office.workroom import Workroom

    if is_list:
        listed = drop_events()
        click.echo(json_text(listed) if as_json else "\n".join(listed.events))
        return
    if is_chances:
        from marram.office.forecasts.tell_drop_chances import DropsAsked

        asked = DropsAsked(height=height, slope_deg=slope_deg, ground=ground, procedure=procedure, reliefs=count, seed=seed)
        _tell_chances(books, asked, field, all_sources=all_sources, as_json=as_json)
        return
    answers = follow_drop(Workroom().books(books), procedure, events)
    if as_json:
        click.echo(json_text(drop_answers(answers)))
    else:
        end = end_of_answer((citation for answer in answers for citation in answer.citations), all_sources=all_sources)
        click.echo("\n\n".join([*map(_text, answers), end]))


def _tell_chances(books: tuple[str, ...], asked: DropsAsked, field: Path | None, *, all_sources: bool, as_json: bool) -> None:
    from marram.answers.forecasts.drop_chances_answer import drop_chances_answer
    from marram.answers.shape import json_text
    from marram.office.forecasts.tell_drop_chances import chance_lines, remark_of, tell_drop_chances
    from marram.office.workroom import Workroom

    room = Workroom()
    told = tell_drop_chances(room.books(books), asked, () if field is None else room.measured_drops(field))
    remark = remark_of(told)
    if as_json:
        click.echo(json_text(drop_chances_answer(told, remark)))
        return
    lines = [fill(remark, width=_WIDTH)]
    for one in told:
        lines += ["", f"{one.book}  [{one.stamp}]"]
        lines += [fill(line, width=_WIDTH, initial_indent="   ", subsequent_indent="   ") for line in chance_lines(one)]
        lines.append(fill(rules_line(one.citations), width=_WIDTH, initial_indent="   ", subsequent_indent="      "))
    click.echo("\n".join([*lines, "", end_of_answer((citation for one in told for citation in one.citations), all_sources=all_sources)]))


def _text(answer: DropAnswer) -> str:
    lines = [
        f"{answer.book}  [{answer.stamp}]",
        fill(answer.instruction, width=_WIDTH, initial_indent="   ", subsequent_indent="   "),
        f"   {answer.drop.stage.value}; drops counted: {answer.drop.counted}; penalty strokes in the drop: {answer.drop.penalty_strokes}",
        fill(rules_line(answer.citations), width=_WIDTH, initial_indent="   ", subsequent_indent="      "),
    ]
    return "\n".join(lines)
