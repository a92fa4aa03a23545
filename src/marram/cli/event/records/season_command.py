"""`marram event season`: what came up over the events of a store, by hole, place, act and time, and on the plan of the course."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_drawing
from marram.cli.event.event_options import store_option
from marram.cli.writing import file_option
from marram.core.words import counted, visible

if TYPE_CHECKING:
    from collections.abc import Iterator

    from marram.answers.events.event_season_answer import EventSeasonAnswer, TallyShape

_SHOWN = 12


@click.command()
@click.option("--event", "events", multiple=True, metavar="NAME", help="An event of the season; left out for all of the store.")
@click.option("--course", type=click.Path(exists=True, path_type=Path, dir_okay=False), help="The course: for --draw, and its edges.")
@click.option("--book", default="", metavar="BOOK", help="The book under which its marking is checked; the edition in force if none.")
@file_option("--draw", help="Draw the places on the plan of the course: .svg, .pdf or .png.")
@store_option
@json_option
def season(*, events: tuple[str, ...], course: Path | None, book: str, draw: Path | None, store_at: str, as_json: bool) -> None:
    """Count rulings, searches and drops of a season by hole, place, act and hour.

    With --course penalty areas that gave rulings are set beside what the check of the marking finds on their edges.
    """
    from marram.answers.events.event_season_answer import event_season_answer
    from marram.answers.shape import json_text
    from marram.cli.common import edition_in_force
    from marram.office.event_records.tell_season import draw_found, edges_beside, find_season, unknown_features
    from marram.office.workroom import Workroom

    if draw is not None and course is None:
        raise click.UsageError("--draw needs --course.")
    room = Workroom()
    store = room.store(store_at)
    found = find_season([room.event(store, name, is_strict=False) for name in events or store.events()])
    if course is None:
        answer = event_season_answer(found, (), ())
    else:
        opened = room.course(course, None)
        answer = event_season_answer(
            found, edges_beside(found, opened, room.book(book or edition_in_force())), unknown_features(found, opened.course)
        )
        if draw is not None:
            write_drawing(draw, draw_found(found, opened))
            click.echo(f"Drawn: {draw}", err=True)
    click.echo(json_text(answer) if as_json else visible("\n".join(_lines(answer))))


def _lines(answer: EventSeasonAnswer) -> Iterator[str]:
    total = answer.rulings + answer.searches + answer.drops
    yield f"{counted(len(answer.events), 'event')}: {_counts(answer.rulings, answer.searches, answer.drops)}"
    if not total:
        yield "nothing is written down"
        return
    for name, rows in (("hole", answer.by_hole), ("place", answer.by_place), ("act", answer.by_act), ("hour", answer.by_hour)):
        if any(row.name for row in rows):
            yield f"by {name}"
            yield from (_row(row) for row in rows[:_SHOWN])
            yield from [f"  and {len(rows) - _SHOWN} more"] if len(rows) > _SHOWN else []
    if answer.edges:
        yield "penalty areas, beside the check of the marking"
    for edge in answer.edges:
        faults = ", ".join(f"{fault.places} {fault.fault}" for fault in edge.faults)
        told = faults or ("no fault on its edge" if edge.checked else "its edge was not tried")
        counts = _counts(edge.rulings, edge.searches, edge.drops)
        yield f"  {'look here: ' * edge.look_at}{edge.feature}, {edge.words}: {counts}; marking: {told}"
    yield from (f"  the survey has no {name}" for name in answer.unknown)


def _row(row: TallyShape) -> str:
    took = f", {row.took_min:.0f} min" if row.took_min >= 1 else ""
    return f"  {row.name or 'not said':<28} {_counts(row.rulings, row.searches, row.drops)}{took}"


def _counts(rulings: int, searches: int, drops: int) -> str:
    return f"rulings {rulings}, searches {searches}, drops {drops}"
