"""The option for the conditions of the day, shared by the commands that look at a course, and what they tell of it."""

from __future__ import annotations

from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from marram.course.day import Day
    from marram.course.frame import Frame

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


def today_member(day: Day | None, frame: Frame) -> dict[str, object]:
    """The same for outsiders, as a member of the answer; none without such a file."""
    if day is None:
        return {}
    import msgspec

    from marram.answers.courses.day_answer import day_shape

    return {"today": msgspec.to_builtins(day_shape(day, frame))}
