"""`marram rule`: rule on one ball."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import books_option, is_for_paper, json_option, sources_option, write_drawing
from marram.cli.today import today_member, today_option, today_text


@click.command()
@click.argument("incident", type=click.Path(path_type=Path), required=False)
@click.option("--course", "course", type=click.Path(path_type=Path), help="The course file.")
@today_option
@books_option
@click.option("--draw", type=click.Path(path_type=Path), help="Write a drawing to scale: .svg, .pdf or .png.")
@click.option("--paper", is_flag=True, help="Draw for paper: black and white, at a stated scale. PDF and PNG always are.")
@click.option("--scale", type=click.IntRange(1), metavar="N", help="On paper 1:N; the largest fair scale that fits if none.")
@click.option("--situations", is_flag=True, help="List the situations that an incident may state.")
@click.option("--schema", is_flag=True, help="Print the JSON Schema of an incident file.")
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
    all_sources: bool,
    as_json: bool,
) -> None:
    """Rule on the INCIDENT: what the player may do, for what penalty, and exactly where."""
    if situations or schema:
        _print_lists(books, schema=schema, as_json=as_json)
        return
    if incident is None or course is None:
        raise click.UsageError("Give an incident file and --course FILE.")
    from marram.answers.rules.ruling_answer import ruling_object
    from marram.cli.rule.beside_ruling import beside_lines, beside_member
    from marram.core.json_text import dump
    from marram.office.give_ruling import give_rulings

    rulings = give_rulings(incident, course, books or _every_edition(), today_file=today)
    if draw is not None:
        from marram.sheets.drawn.ruling_drawing import draw_rulings

        is_paper = paper or scale is not None or is_for_paper(draw)
        write_drawing(draw, draw_rulings(rulings.incident, rulings.course, rulings.given, is_paper=is_paper, scale=scale))
        click.echo(f"Drawn: {draw}", err=True)
    if as_json:
        frame = rulings.course.frame
        told = [ruling_object(ruling, frame) | beside_member(book, ruling, rulings.incident) for book, ruling in rulings.given]
        click.echo(dump({"books": told} | today_member(rulings.day, frame)))
    else:
        from marram.cli.rule.rule_text import ruling_text

        told_texts = [
            ruling_text(ruling, beside_lines(book, ruling, rulings.incident), all_sources=all_sources) for book, ruling in rulings.given
        ]
        click.echo("\n\n".join(told_texts) + today_text(rulings.day))


def _every_edition() -> tuple[str, ...]:
    from marram.rulebook.reading.files import packaged_catalogue

    return tuple(packaged_catalogue().editions)


def _print_lists(books: tuple[str, ...], *, schema: bool, as_json: bool) -> None:
    from marram.core.json_text import dump
    from marram.interchange.books.book_files import read_books
    from marram.interchange.field.incident_file import incident_schema
    from marram.rulings.rule_on import situations

    if schema:
        click.echo(dump(incident_schema()))
        return
    known = situations(read_books(books or _every_edition())[0])
    if as_json:
        click.echo(dump({"situations": [{"situation": name, "means": means} for name, means in known.items()]}))
    else:
        width = max(map(len, known), default=0)
        click.echo("\n".join(f"{name:<{width}}  {means}" for name, means in known.items()))
