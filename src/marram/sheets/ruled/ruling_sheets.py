"""A ruling on sheets of A4: the map as large as leaves the options of every book on the first sheet, and what is left on further ones."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from marram.core.errors import SurveyError
from marram.core.terms import ADVICE
from marram.course.course import Course
from marram.rulings.case.incident import Incident
from marram.sheets.drawn.legend import Sign
from marram.sheets.drawn.ruling_caption import draw_attribution, draw_closing
from marram.sheets.ruled.books_row import draw_books_row
from marram.sheets.ruled.paper_rows import SHEET_HEIGHT, Measure, Row, rows_of_all, rows_of_options, rows_of_reasons, share_out
from marram.sheets.ruled.ruled_place import Given, RuledPlace
from marram.sheets.ruled.ruling_layout import MAP_HEIGHT, PAPER, TOP, Laid, lay_out
from marram.sheets.ruled.ruling_map import draw_beneath, draw_map, finish, placed
from marram.sheets.ruled.ruling_scene import heading
from marram.sheets.scene.border import PROOF_MM, draw_proof_bar
from marram.sheets.scene.palette import PRINT
from marram.sheets.scene.rendering import AS_FILE, Rendering
from marram.sheets.scene.svg import UNIT_MM

_ADVICE = 34.0
"""Height of the advice at the foot of a further sheet."""
_BEFORE_RULE = 5.0
"""Between the last line and the rule that closes a sheet."""
_PROOF = PROOF_MM / UNIT_MM + 20
"""Width of the bar that proves a print, with room beside it."""
_LEAST_FOR_ALL, _LEAST_FOR_OPTIONS, _LEAST, _STEP = 400.0, 320.0, 180.0, 10.0
"""How low a map may be so that all has room beneath it, or the options, or the options in lines of the whole width; drawing units."""
_TRIES = 4
"""A lower map may leave more to its legend, so that it is lowered again."""
_USUAL = Measure(width=PAPER.sides[1] - PAPER.sides[0])
_WIDE = replace(_USUAL, column=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ground:
    """The map with all that stands directly beneath it.

    Attributes:
        laid: Map and plan.
        body: The marks.
        signs: What the legend explains.
        end: Where it ends.
        measure: How what the books say is set beneath it.
    """

    laid: Laid
    body: list[str]
    signs: list[Sign]
    end: float
    measure: Measure = _USUAL


def draw_ruling_sheets(
    incident: Incident, course: Course, given: Given, *, scale: int | None = None, rendering: Rendering = AS_FILE
) -> tuple[str, ...]:
    """Draw an incident under its books on sheets of A4: map and options first, and on further sheets what has no room there.

    Args:
        incident: What happened.
        course: The course with the day's conditions.
        given: Books with their rulings.
        scale: 1 to so many; None for the largest of a fair series that holds the chosen area.
        rendering: How the drawing is given, with words.

    Returns:
        SVG files, none higher than A4 less its margins; equal input gives equal bytes.

    Raises:
        SurveyError: The hole has no location, or the chosen area does not fit at the scale asked.
    """
    place = placed(incident, course, given)
    ground = _fitting(place, scale, rendering)
    bodies, ends = [[*ground.body]], [ground.end]
    last = _last(place)
    if not place.is_laid_over:
        row: list[str] = []
        after = draw_books_row(row, place, ground.laid, PAPER, ground.signs, ends[0])
        if after <= last:
            bodies[0] += row
            ends[0] = after
        else:
            bodies.append([])
            ends.append(draw_books_row(bodies[1], place, ground.laid, PAPER, ground.signs, TOP))
    _share_out_caption(bodies, ends, place, last, ground.measure)
    _close(bodies[0], place, ends[0])
    palette, count = rendering.palette or PRINT, len(bodies)
    drawn = []
    for number, (body, end) in enumerate(zip(bodies, ends, strict=True), start=1):
        note = f" · sheet {number} of {count}" if count > 1 else ""
        height = end + (_close([], place, 0.0) if number == 1 else _advise(body, end))
        drawn.append(finish(place, [*heading(incident, course, PAPER, note), *body], height, PAPER, ground.laid, palette, rendering))
    return tuple(drawn)


def lay_out_sheet(place: RuledPlace, scale: int | None, rendering: Rendering = AS_FILE) -> Laid:
    """Where map and plan stand on the first sheet of a ruling.

    Args:
        place: The incident with its rulings.
        scale: 1 to so many; None for the largest that fits.
        rendering: How the drawing is given.

    Raises:
        SurveyError: What must be seen does not fit at the scale asked.
    """
    return _fitting(place, scale, rendering).laid


def _fitting(place: RuledPlace, scale: int | None, rendering: Rendering) -> _Ground:
    """The map as high as leaves room for all that the books say, else for their options, else as high as any."""
    usual = _ground(place, lay_out(place, PAPER, scale, rendering), rendering)
    if not place.is_laid_over or rendering.window is not None:
        return usual
    tries = (
        (rows_of_all, _USUAL, _LEAST_FOR_ALL),
        (rows_of_options, _USUAL, _LEAST_FOR_OPTIONS),
        (rows_of_options, _WIDE, _LEAST),
    )
    for rows_of, measure, least in tries:
        lower = _lowered(usual, place, scale, rendering, rows_of(place, measure), least)
        if lower is not None:
            return replace(lower, measure=measure)
    return usual


def _lowered(
    usual: _Ground, place: RuledPlace, scale: int | None, rendering: Rendering, rows: Sequence[Row], least: float
) -> _Ground | None:
    """The map lowered by what rows lack beneath it; None where it would be too low."""
    needed = sum(row.height for row in rows) + _BEFORE_RULE
    ground, height = usual, MAP_HEIGHT
    for _ in range(_TRIES):
        over = ground.end + needed - _last(place)
        if over <= 0:
            return ground
        height = math.floor((height - over) / _STEP) * _STEP
        if height < least:
            return None
        try:
            ground = _ground(place, lay_out(place, PAPER, scale, rendering, height), rendering)
        except SurveyError:  # the scale asked leaves no room
            return None
    return None


def _ground(place: RuledPlace, laid: Laid, rendering: Rendering) -> _Ground:
    body: list[str] = []
    signs, left = draw_map(body, place, laid, PAPER)
    end = draw_beneath(body, place, laid, PAPER, signs, left)
    return _Ground(laid=laid, body=body, signs=signs, end=end)


def _last(place: RuledPlace) -> float:
    """Where the rows of the first sheet must end."""
    return SHEET_HEIGHT - _close([], place, 0.0)


def _share_out_caption(bodies: list[list[str]], ends: list[float], place: RuledPlace, last: float, measure: Measure) -> None:
    """Letter what each book says on the last sheet and as many more as it needs: where one does not do, the options of all books first."""
    first = (ends[-1], last if len(ends) == 1 else SHEET_HEIGHT - _ADVICE)
    first, other = (first[0], first[1] - _BEFORE_RULE), (TOP - 12, SHEET_HEIGHT - _ADVICE - _BEFORE_RULE)
    sheets = share_out(rows_of_all(place, measure), first, other)
    if len(sheets) > 1:
        sheets = share_out([*rows_of_options(place, measure), *rows_of_reasons(place, measure)], first, other)
    start = len(bodies) - 1
    for number, rows in enumerate(sheets, start=start):
        if number == len(bodies):
            bodies.append([])
            ends.append(other[0])
        for y, row in rows:
            bodies[number] += row.draw(PAPER.sides, y)
            ends[number] = y + row.height + _BEFORE_RULE


def _close(body: list[str], place: RuledPlace, y: float) -> float:
    """Cautions, advice beside the bar that proves a print, and whose survey it is; returns where the sheet ends."""
    left, right = PAPER.sides
    y = draw_closing(body, place.given, PAPER.sides, y, is_paper=True)
    body += draw_proof_bar(right - PROOF_MM / UNIT_MM, y - 2)
    return max(draw_attribution(body, place.course, (left, right - _PROOF), y, is_paper=True), y + 17) + 3


def _advise(body: list[str], y: float) -> float:
    """The advice at the foot of a further sheet; returns its height."""
    left, right = PAPER.sides
    body.append(f'<path class="line3" d="M{left:.0f} {y:.1f}H{right:.0f}"/>')
    body.append(f'<text class="t3" x="{left:.0f}" y="{y + 22:.1f}">{ADVICE}</text>')
    return _ADVICE
