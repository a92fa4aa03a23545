"""The option for the conditions of the day, shared by the commands that look at a course, and what they tell of it."""

from __future__ import annotations

from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from marram.course.day import Day

_WIDTH = 100

today_option = click.option(
    "--today",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Conditions of the day and hole locations (TOML), laid on the survey.",
)


def today_text(day: Day | None) -> str:
    """What of an answer rests on the day's file and not on the survey, as paragraphs to follow it; empty without such a file."""
    if day is None:
        return ""
    return "\n\n" + "\n".join(fill(line, width=_WIDTH, subsequent_indent="   ") for line in (day.words, *day.remarks))
