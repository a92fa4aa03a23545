"""`marram course check`: every fault of the survey, and which of them stop rulings."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.today import today_option

if TYPE_CHECKING:
    from marram.course.faults import Fault
    from marram.course.frame import Frame
    from marram.office.check_course import CourseChecked

_WIDTH = 100
_SIGNS = {"stops": "■ stops", "asks": "◧ asks ", "notes": "□ notes"}


@click.command()
@click.argument("course", type=click.Path(path_type=Path))
@today_option
@json_option
def check(course: Path, *, today: Path | None, as_json: bool) -> None:
    """List every fault of the COURSE file in one pass, with where it lies and what would put it right."""
    from marram.interchange.answers import dump
    from marram.office.check_course import check_survey_file

    checked = check_survey_file(course, today)
    click.echo(dump(check_object(checked)) if as_json else "\n".join(_lines(checked)))
    if checked.faults:
        raise SystemExit(1)


def check_object(checked: CourseChecked) -> dict[str, object]:
    """The faults as outsiders read them."""
    frame = checked.course.frame
    return {
        "course": checked.course.name,
        "holes": [
            {
                "hole": entry.hole.number,
                "par": entry.hole.par,
                "stroke_index": entry.hole.stroke_index,
                "length_m": None if entry.hole.length_m is None else round(entry.hole.length_m, 1),
                "green": None if entry.hole.green is None else entry.hole.green.id,
                "tees": list(entry.tees),
                "has_location": entry.hole.location is not None,
                "rulings": "can be given" if not entry.stopped else "stopped",
                "because": list(entry.stopped),
            }
            for entry in checked.holes
        ],
        "faults": [_fault_object(fault, frame) for fault in checked.faults],
    }


def _fault_object(fault: Fault, frame: Frame) -> dict[str, object]:
    from marram.course.faults import weight_of
    from marram.interchange.answers import position_object

    return {
        "kind": fault.kind.value,
        "weight": weight_of(fault).value,
        "feature": fault.feature,
        "holes": list(fault.holes),
        "at": None if fault.at is None else position_object(frame, fault.at),
        "message": fault.message,
        "remedy": fault.remedy,
        "stops_rulings": fault.stops_rulings,
    }


def _lines(checked: CourseChecked) -> Iterator[str]:
    from marram.course.faults import weight_of

    holes = len(checked.holes)
    yield f"{checked.course.name}: {len(checked.course.features)} features, {holes} hole{'s' * (holes != 1)}"
    for fault in checked.faults:
        at = "" if fault.at is None else f" [x {fault.at.x_m:.1f} m, y {fault.at.y_m:.1f} m]"
        sign = _SIGNS[weight_of(fault).value]
        yield fill(f"{sign}  {fault.message}{at}", width=_WIDTH, subsequent_indent="         ")
        yield fill(fault.remedy, width=_WIDTH, initial_indent="         → ", subsequent_indent="           ")
    stopped = [entry.hole.number for entry in checked.holes if entry.stopped]
    count = sum(fault.stops_rulings for fault in checked.faults)
    if not checked.faults:
        yield "No faults."
        return
    where = f" on holes {', '.join(map(str, stopped))}" if stopped and len(stopped) < holes else " everywhere" if stopped else ""
    yield f"{len(checked.faults)} faults, {count} of them stop rulings{where if count else ''}."
