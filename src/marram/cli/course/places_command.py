"""`marram course places`: where a relief procedure can be shown well to players."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import (
    DRAWING_FORMS,
    books_option,
    edition_in_force,
    folder_at,
    is_for_paper,
    json_option,
    write_drawings,
    write_whole,
)
from marram.cli.fields import in_options
from marram.cli.today import today_option, today_text
from marram.cli.writing import folder_option

if TYPE_CHECKING:
    from marram.office.courses.find_places import PlacesFound, ShownPlace

_WIDTH = 100


@click.command()
@click.argument("course", type=click.Path(path_type=Path))
@click.option("--procedure", required=True, metavar="P", help="A row of the rule data (relief.P): marram book list shows them.")
@today_option
@books_option
@click.option("--count", default=5, show_default=True, help="How many places at most.")
@folder_option("--draw", help="Write a drawing of each place to this folder.")
@click.option("--form", type=click.Choice(DRAWING_FORMS), default="svg", show_default=True, help="How the drawings are written.")
@folder_option("--incidents", help="Write each place as an incident for marram rule.")
@click.option("--hand", type=click.Choice(["right", "left"]), default="right", show_default=True, help="The player's hand.")
@click.option("--longest-club", default=45.0, show_default=True, metavar="INCHES", help="Longest club other than a putter.")
@click.option("--club", type=click.Choice(["driver", "iron", "wedge"]), default="iron", show_default=True, help="The club in hand.")
@json_option
def places(
    course: Path,
    procedure: str,
    *,
    today: Path | None,
    books: tuple[str, ...],
    count: int,
    draw: Path | None,
    form: str,
    incidents: Path | None,
    hand: str,
    longest_club: float,
    club: str,
    as_json: bool,
) -> None:
    """Find where on the COURSE a procedure can be shown: area whole, certain within the survey, people safe and near."""
    from marram.answers.courses.places_answer import course_places_answer
    from marram.answers.shape import json_text
    from marram.core.terms import Club, Hand
    from marram.office.courses.find_places import find_places, player_with
    from marram.office.workroom import Workroom

    room, player = Workroom(), player_with(Hand(hand), Club(club), longest_club)
    opened = room.books(books or (edition_in_force(),))
    found = find_places(room.course(course, today), procedure, opened, player=player, count=count)
    if draw is not None:
        _write_drawings(found, folder_at(draw), form)
    if incidents is not None:
        _write_incidents(found, folder_at(incidents))
    click.echo(json_text(course_places_answer(found, in_options)) if as_json else places_text(found) + today_text(found.day))


def _name(rank: int, place: ShownPlace) -> str:
    feature = "".join(letter if letter.isalnum() else "-" for letter in place.spot.feature)
    return f"place-{rank}-hole-{place.incident.hole}-{feature}"


def _write_drawings(found: PlacesFound, folder: Path, form: str) -> None:
    from marram.office.courses.draw_ground import draw_place, draw_place_sheets

    for rank, place in enumerate(found.places, start=1):
        path = folder / f"{_name(rank, place)}.{form}"
        write_drawings(path, draw_place_sheets(found, place) if is_for_paper(path) else (draw_place(found, place, is_paper=False),))
    click.echo(f"Drawn: {len(found.places)} in {folder}", err=True)


def _write_incidents(found: PlacesFound, folder: Path) -> None:
    from marram.office.courses.write_ground import place_text

    for rank, place in enumerate(found.places, start=1):
        write_whole(folder / f"{_name(rank, place)}.toml", place_text(found, rank, place))
    click.echo(f"Written: {len(found.places)} in {folder}", err=True)


def places_text(found: PlacesFound) -> str:
    """The places as a list."""
    return "\n".join(_lines(found))


def _lines(found: PlacesFound) -> Iterator[str]:
    books = ", ".join(book.name for book in found.books)
    yield f"{found.procedure} on {found.course.name}, under {books}"
    if not found.places:
        yield fill(f"No place: {in_options(found.why_none)}", width=_WIDTH)
        return
    for rank, place in enumerate(found.places, start=1):
        sizes = dict.fromkeys("no area" if shown.area_m2 is None else f"{shown.area_m2:.2f} m²" for shown in place.under)
        area = f"{', '.join(sizes)} ({place.least.share:.0%} of the shape)"
        yield ""
        about = place.spot.noun if place.spot.feature.startswith("hole ") else f"{place.spot.feature} ({place.spot.noun})"
        yield f"{rank}  Hole {place.incident.hole}, {about}: {_where(found, place)}"
        yield f"   {area}; score {place.score:.2f}"
        yield _wrapped(f"Good: {'; '.join(place.reasons)}.")
        for text in place.watch:
            yield _wrapped(f"Watch: {text}")
    yield ""
    yield "Advice to the official: go there and look first, and stand out of range of every group that plays."


def _where(found: PlacesFound, place: ShownPlace) -> str:
    along = found.along(place)
    if along is None:
        return f"x {place.at.x_m:.1f} m, y {place.at.y_m:.1f} m"
    before, right = along.before_green_m, along.right_m
    ahead = f"{before:.0f} m before the green" if before >= 0 else f"{-before:.0f} m beyond the front of the green"
    return f"{ahead}, {abs(right):.0f} m {'right' if right >= 0 else 'left'} of the line of play"


def _wrapped(text: str) -> str:
    return fill(text, width=_WIDTH, initial_indent="   ", subsequent_indent="      ")
