"""`marram course`: the surveyed course."""

from __future__ import annotations

import click

from marram.cli.lazy import lazy_group

_COMMANDS = {
    "marking": ("marram.cli.course_marking", "marking", "Find where the marking leaves nowhere good to drop."),
    "places": ("marram.cli.course_places", "places", "Find where a relief procedure can be shown well."),
    "draw": ("marram.cli.course_draw", "draw", "Draw a hole, or the whole course."),
}


@click.group(cls=lazy_group(_COMMANDS))
def course() -> None:
    """Check the marking of a surveyed course, find places on it, draw it."""
