"""`marram course import`: bring in map data, stake walks and spreadsheets."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_whole
from marram.cli.fields import in_options
from marram.cli.writing import file_option
from marram.core.words import counted

if TYPE_CHECKING:
    from marram.interchange.courses.imported import Imported

_LARGE_BYTES = 5_000_000
_STEPS, _PART = 3, 8
"""A map is read in three steps, each so many signs of the bar long."""


@click.command("import")
@click.argument("source", type=click.Path(path_type=Path))
@file_option("-o", "--out", goes_on_with="onto", required=True, help="The course file to write.")
@click.option(
    "--as",
    "kind",
    type=click.Choice(["map", "geojson", "walk", "hole-locations", "tees"]),
    help="What SOURCE is; told by its ending if none.",
)
@click.option(
    "--onto", type=click.Path(path_type=Path), metavar="COURSE", help="The course to which a walk, hole locations or tees are added."
)
@click.option("--name", default="", help="What the course is called.")
@click.option("--sigma-m", type=click.FloatRange(min=0), metavar="M", help="Accuracy of the survey, one standard deviation, metres.")
@click.option("--outline", default="", metavar="NAME", help="Map: which golf course of several: way/123, or its name there.")
@click.option(
    "--mark", "marks", multiple=True, metavar="NAME=MARK", help="Mark water: pond-1=red, all=red, or proposed. A walk: one plain mark."
)
@click.option(
    "--hole", "holes", multiple=True, metavar="NAME=N", help="Number a green, tee or line: green-x1=7. A walk: plain numbers, 7,16."
)
@click.option("--draw-lines", is_flag=True, help="Map: draw a straight line of play for each hole that has a tee and a green and none.")
@click.option("--property", "properties", multiple=True, metavar="OURS=THEIRS", help="GeoJSON: which of its properties is which of ours.")
@click.option("--value", "values", multiple=True, metavar="THEIRS=OURS", help="GeoJSON: which of its values is which of ours.")
@click.option("--kind", "feature", default="", metavar="KIND", help="Walk: what was walked, such as penalty-area.")
@click.option("--id", "feature_id", default="", metavar="NAME", help="Walk: its name, such as pond-7.")
@click.option("--what", default="", metavar="NOUN", help="Walk: a plain noun, such as pond.")
@click.option("--close", type=click.Choice(["ring", "to-boundary"]), default="ring", show_default=True, help="Walk: how it is closed.")
@click.option("--width-m", type=click.FloatRange(min=0, min_open=True), metavar="M", help="Walk: width of a line.")
@click.option("--radius-m", type=click.FloatRange(min=0, min_open=True), metavar="M", help="Walk: radius of a single point.")
@click.option("--track", default="", metavar="NAME", help="Walk: which track of a GPX file.")
@click.option(
    "--pace-m",
    type=click.FloatRange(min=0, min_open=True),
    default=0.9144,
    show_default=True,
    metavar="M",
    help="Hole locations: length of a pace.",
)
@json_option
def import_course(
    source: Path,
    *,
    out: Path,
    kind: str | None,
    onto: Path | None,
    name: str,
    sigma_m: float | None,
    outline: str,
    marks: tuple[str, ...],
    holes: tuple[str, ...],
    draw_lines: bool,
    properties: tuple[str, ...],
    values: tuple[str, ...],
    feature: str,
    feature_id: str,
    what: str,
    close: str,
    width_m: float | None,
    radius_m: float | None,
    track: str,
    pace_m: float,
    as_json: bool,
) -> None:
    """Bring SOURCE in: OpenStreetMap XML or PBF, GeoJSON, a GPX or CSV stake walk, hole locations, or a spreadsheet of tees.

    Nothing is lost in silence: what was left out, mended or assumed is counted and named, in the file too.
    """
    from marram.answers.courses.import_answer import course_import_answer
    from marram.answers.shape import json_text
    from marram.core.work import Work
    from marram.office.courses.survey_course import SourceKind, SurveyOptions, survey_course
    from marram.office.courses.write_ground import course_text
    from marram.office.workroom import Workroom

    options = SurveyOptions(
        onto=None if onto is None else Workroom().survey(onto),
        kind=None if kind is None else SourceKind(kind),
        outline=outline,
        name=name,
        sigma_m=sigma_m,
        marks=marks,
        holes=holes,
        draws_lines=draw_lines,
        properties=properties,
        values=values,
        feature=feature,
        id=feature_id,
        what=what,
        close=close,
        width_m=width_m,
        radius_m=radius_m,
        track=track,
        pace_m=pace_m,
    )
    made = survey_course(source, options, Work(_Told(source)))
    write_whole(out, course_text(made.course))
    click.echo(json_text(course_import_answer(made, in_options)) if as_json else "\n".join(_lines(made)))
    click.echo(f"Written: {out}", err=True)


class _Told:
    """A bar on standard error that tells how far the reading of a large map is; nothing for a small one."""

    def __init__(self, source: Path) -> None:
        self.is_large = source.is_file() and source.stat().st_size > _LARGE_BYTES
        self.steps: list[str] = []

    def __call__(self, doing: str, count: int, whole: int) -> None:
        if not self.is_large:
            return
        is_new = doing not in self.steps
        self.steps += [doing] if is_new else []
        done = len(self.steps) * _PART
        bar = f"[{'#' * done}{'-' * (_STEPS * _PART - done)}] {doing}{f': {count:,} objects' if count else ''}"
        is_live = sys.stderr.isatty()
        if is_live or is_new:
            click.echo(f"{chr(13) if is_live else ''}{bar}", err=True, nl=not is_live)


def _lines(made: Imported) -> Iterator[str]:
    from marram.office.courses.survey_course import unmarked_water

    course = made.course
    yield f"{course.name}: {counted(len(course.features), 'feature')}, holes {_numbers(list(course.holes))}"
    for kind, count in sorted(Counter(feature.kind.value for feature in course.features).items()):
        yield f"{count:>5}  {kind.replace('-', ' ')}"
    if made.left_out:
        yield f"Left out, {sum(len(entry.names) for entry in made.left_out)} in all; the file names each:"
        for entry in made.left_out:
            yield f"{len(entry.names):>5}  {entry.what}: {entry.why}"
    assumed = Counter(f"{name}: {words}" for feature in course.features for name, words in feature.assumed)
    if assumed:
        yield "Assumed, not surveyed:"
        for words, count in sorted(assumed.items()):
            yield f"{count:>5}  {words}"
    for feature in course.features:
        if feature.repaired:
            yield f"Mended: {feature.id}: {feature.repaired}"
    for remark in map(in_options, made.remarks):
        yield f"Note: {remark}"
    water = unmarked_water(course)
    if water:
        yield f"Not marked yet: {', '.join(water)}. Decide with --mark NAME=red or yellow, --mark all=red, or --mark proposed."
    yield "Next: marram course check lists every fault, and which of them stop rulings."


def _numbers(numbers: list[int]) -> str:
    return ", ".join(map(str, numbers)) if numbers else "none"
