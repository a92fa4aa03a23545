"""`marram rule`: rule on one ball."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, is_for_paper, json_option, sources_option, write_drawings
from marram.cli.event.log_options import Logging, OpenLog, logged_text, logging_options
from marram.cli.today import today_option, today_text
from marram.cli.writing import file_option

if TYPE_CHECKING:
    from marram.office.play.give_ruling import Rulings


@click.command()
@click.argument("incident", type=click.Path(path_type=Path), required=False)
@click.option("--course", "course", type=click.Path(path_type=Path), help="The course file.")
@today_option
@books_option
@file_option("--draw", help="Write a drawing to scale: .svg, .pdf or .png.")
@click.option("--paper", is_flag=True, help="Draw for paper: black and white, at a stated scale. PDF and PNG always are.")
@click.option("--scale", type=click.IntRange(1), metavar="N", help="On paper 1:N; the largest fair scale that fits if none.")
@click.option("--situations", is_flag=True, help="List the situations that an incident may state.")
@click.option("--schema", is_flag=True, help="Print the JSON Schema of an incident file.")
@click.option("--took", default="", metavar="LETTER", help="With --player: the option that the player took, by its letter.")
@logging_options
@sources_option
@json_option
def rule(
    incident: Path | None,
    course: Path | None,
    *,
    today: Path | None,
    books: tuple[str, ...],
    draw: Path | None,
    paper: bool,
    scale: int | None,
    situations: bool,
    schema: bool,
    took: str,
    logging: Logging,
    all_sources: bool,
    as_json: bool,
) -> None:
    """Rule on the INCIDENT: what the player may do, for what penalty, and exactly where."""
    if situations or schema:
        _print_lists(books, schema=schema, as_json=as_json)
        return
    if incident is None or course is None:
        raise click.UsageError("Give an incident file and --course FILE.")
    from marram.answers.rules.ruling_answer import ruling_answers
    from marram.answers.shape import json_text
    from marram.office.play.give_ruling import draw_ruling, draw_ruling_sheets, give_rulings
    from marram.office.workroom import Workroom

    room = Workroom()
    log = OpenLog(logging, room)
    asked, opened = log.books(books), room.course(course, today)
    rulings = give_rulings(room.incident(incident, opened.course, asked), opened, asked, where=incident.name)
    if draw is not None:
        is_paper = paper or scale is not None or is_for_paper(draw)
        sheets = draw_ruling_sheets(rulings, scale=scale) if is_paper else (draw_ruling(rulings),)
        click.echo(f"Drawn: {', '.join(map(str, write_drawings(draw, sheets)))}", err=True)
    logged = log.log_option(rulings, took)
    if as_json:
        click.echo(json_text(ruling_answers(rulings, logged)))
        return
    click.echo(_told(rulings, all_sources=all_sources) + logged_text(logged))


def _told(rulings: Rulings, *, all_sources: bool) -> str:
    from marram.cli.rule.rule_text import ruling_text

    told = [ruling_text(given, all_sources=all_sources) for given in rulings.given]
    return "\n\n".join(told) + today_text(rulings.day)


def _print_lists(books: tuple[str, ...], *, schema: bool, as_json: bool) -> None:
    from marram.answers.rules.incident_schema import incident_schema_text
    from marram.answers.rules.ruling_answer import situation_list
    from marram.answers.shape import json_text
    from marram.office.play.give_ruling import list_situations
    from marram.office.workroom import Workroom

    opened = Workroom().books(books)
    if schema:
        click.echo(incident_schema_text())
        return
    known = list_situations(opened[0])
    if as_json:
        click.echo(json_text(situation_list(known)))
    else:
        width = max(map(len, known), default=0)
        click.echo("\n".join(f"{name:<{width}}  {means}" for name, means in known.items()))
