"""`marram course check`: every fault of the survey, and which of them stop rulings."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.fields import in_options
from marram.cli.today import today_option
from marram.core.words import counted

if TYPE_CHECKING:
    from marram.course.check.faults import Fault
    from marram.office.courses.check_course import CourseChecked

_WIDTH = 100
_SIGNS = {"stops": "■ stops", "asks": "◧ asks ", "notes": "□ notes"}
_INDENT = " " * 9


@click.command()
@click.argument("course", type=click.Path(path_type=Path))
@today_option
@json_option
def check(course: Path, *, today: Path | None, as_json: bool) -> None:
    """List every fault of the COURSE file in one pass, with where it lies and what would put it right."""
    from marram.answers.courses.check_answer import course_check_answer
    from marram.answers.shape import json_text
    from marram.office.courses.check_course import check_survey
    from marram.office.workroom import Workroom

    checked = check_survey(Workroom().course(course, today).course)
    click.echo(json_text(course_check_answer(checked, in_options)) if as_json else "\n".join(_lines(checked)))
    if checked.faults:
        raise SystemExit(1)


def _lines(checked: CourseChecked) -> Iterator[str]:
    features, holes = len(checked.course.features), len(checked.holes)
    yield f"{checked.course.name}: {counted(features, 'feature')}, {counted(holes, 'hole')}"
    for fault in checked.faults:
        yield from _fault_lines(fault)
    yield _sum(checked)


def _fault_lines(fault: Fault) -> Iterator[str]:
    at = "" if fault.at is None else f" [x {fault.at.x_m:.1f} m, y {fault.at.y_m:.1f} m]"
    yield _wrapped(f"{fault.message}{at}", f"{_SIGNS[fault.weight.value]}  ", _INDENT)
    yield _wrapped(in_options(fault.remedy), f"{_INDENT}→ ", f"{_INDENT}  ")


def _wrapped(text: str, first: str, rest: str) -> str:
    """Text on lines of 100 columns; options and names are never broken at a hyphen."""
    return fill(text, width=_WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False, break_long_words=False)


def _sum(checked: CourseChecked) -> str:
    if not checked.faults:
        return "No faults."
    stopping = sum(fault.stops_rulings for fault in checked.faults)
    known = {entry.hole.number: bool(entry.stopped) for entry in checked.holes}
    missing = {number for fault in checked.faults if fault.stops_rulings for number in fault.holes if number not in known}
    stopped = sorted({number for number, is_stopped in known.items() if is_stopped} | missing)
    if not stopping:
        none = "which does not stop" if len(checked.faults) == 1 else "none of them stops"
        return f"{counted(len(checked.faults), 'fault')}, {none} rulings."
    is_everywhere = any(fault.stops_rulings and not fault.holes for fault in checked.faults)
    where = "everywhere" if is_everywhere else f"on hole{'s' * (len(stopped) != 1)} {', '.join(map(str, stopped))}"
    which = "which" if len(checked.faults) == 1 else f"{stopping} of them"
    return f"{counted(len(checked.faults), 'fault')}, {which} stop{'s' * (stopping == 1)} rulings {where}."
