"""`marram course`: the surveyed course."""

from __future__ import annotations

import click

from marram.cli.lazy import lazy_group

_COMMANDS = {
    "import": ("marram.cli.course.import_command", "import_course", "Bring in map data, stake walks and spreadsheets."),
    "holes": ("marram.cli.course.holes_command", "holes", "Number the holes of a map that does not: propose them, confirm, put them on."),
    "check": ("marram.cli.course.check_command", "check", "List every fault of the survey, and which stop rulings."),
    "marking": ("marram.cli.course.marking_command", "marking", "Find where the marking leaves nowhere good to drop."),
    "places": ("marram.cli.course.places_command", "places", "Find where a relief procedure can be shown well."),
    "draw": ("marram.cli.course.draw", "draw", "Draw a hole, or the whole course."),
}


@click.group(cls=lazy_group(_COMMANDS))
def course() -> None:
    """Bring in a surveyed course, number its holes, check it and its marking, find places on it, draw it."""
