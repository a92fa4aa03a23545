"""What a ruling pencils over the ground, with its letters, words and measured lengths."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from marram.course.frame import Position
from marram.relief.area.lines import LineBack, along_bearing
from marram.relief.area.shapes import Crescent
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import Option, Ruling
from marram.sheets.drawn.doubt_marks import doubt_items, doubt_labels
from marram.sheets.drawn.option_places import LETTERS, STATION_WORDS, is_only_a_point, last_seen_m, letter_place, options_away
from marram.sheets.drawn.relief_shapes import (
    foot_items,
    hole_arc,
    incident_items,
    incident_spots,
    main_option,
    option_items,
    option_spots,
    seen_part,
)
from marram.sheets.scene.scene import Dimension, Item, Label, LabelKind, Spot, Window

_AT_THE_BALL_M = 0.3
_SHORT_LINE_M = 100.0
"""A usable line that ends sooner is told with its end: it stays in a bunker, or the boundary is near."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """Everything pencilled for one ruling."""

    items: tuple[Item, ...]
    spots: tuple[Spot, ...]
    labels: tuple[Label, ...]
    dimensions: tuple[Dimension, ...]
    away: tuple[tuple[Position, str], ...]


def ruling_marks(
    ruling: Ruling, incident: Incident, hole: Position, window: Window, *, lettered: bool, like: Option | None = None
) -> Marks:
    """The marks of the book in force.

    Args:
        ruling: The ruling.
        incident: What happened.
        hole: Where the hole is.
        window: What is shown.
        lettered: Whether options carry their letters and words.
        like: The option that the drawing is about, of another book.
    """
    items: list[Item] = []
    spots: list[Spot] = []
    labels: list[Label] = []
    dimensions: list[Dimension] = []
    away = _away(ruling, incident, hole, window) if lettered else []
    main = main_option(ruling, like)
    for letter, option in zip(LETTERS, ruling.options, strict=False):
        items += option_items(option, hole, is_main=option is main)
        spots += option_spots(option, window)
        if lettered:
            labels += _option_labels(letter, option, window)
        if option.doubt is not None:
            items += doubt_items(option.doubt)
            labels += doubt_labels(option.doubt, window) if lettered and option is main else []
        if option.relief_area and isinstance(option.relief_area.shape, Crescent) and option.references:
            dimensions += _radius(option)
    if main is not None and lettered:
        labels += _main_labels(main, hole, window)
        items += foot_items(main, incident, hole)
    spots += incident_spots(incident, hole, window)
    items += incident_items(incident, main)
    labels += _ball_label(incident, main, window) if lettered else []
    return Marks(
        items=tuple(items),
        spots=tuple(dict.fromkeys(spots)),
        labels=tuple(labels),
        dimensions=tuple(dimensions),
        away=tuple(away),
    )


def _away(ruling: Ruling, incident: Incident, hole: Position, window: Window) -> list[tuple[Position, str]]:
    """Everything that lies outside the window."""
    away = options_away(ruling.options, window)
    ball = incident.ball
    if ball is not None and not window.holds(ball) and not any(place.distance_m(ball) < _AT_THE_BALL_M for place, _ in away):
        away.append((ball, "ball"))
    return away if window.holds(hole, 0.2) else [*away, (hole, "hole")]


def _option_labels(letter: str, option: Option, window: Window) -> Iterator[Label]:
    place = letter_place(option, window)
    if place is not None:
        ground = option.relief_area.outline() if option.relief_area is not None and option.relief_area.parts else None
        is_inside = not is_only_a_point(option)
        yield Label(lines=(letter,), kind=LabelKind.LETTER, anchor=place, is_inside=is_inside, ground=ground)
    if option.line is not None and option.line.intervals_m:
        near_m = option.line.intervals_m[0][0]
        at_m = last_seen_m(option, window)
        if at_m is not None and at_m > near_m:
            where = option.line.place_at(near_m + 0.72 * (at_m - near_m))
            yield Label(lines=("back on the line,", how_far_back(option.line)), kind=LabelKind.RULING, anchor=where, must_show=False)


def how_far_back(line: LineBack) -> str:
    """How far back on a line a ball may be dropped, in words."""
    last_m = line.intervals_m[-1][1] if line.intervals_m else 0.0
    return "any distance back" if last_m > _SHORT_LINE_M else f"up to {last_m:.1f} m back"


def _radius(option: Option) -> Iterator[Dimension]:
    """The size, measured from the reference point along the middle of the longest run of free bearings."""
    area, size_m = option.relief_area, option.size_m
    if area is None or size_m is None or not isinstance(area.shape, Crescent) or not area.parts:
        return
    centre = area.shape.centre
    ground = area.outline().buffer(0.02)
    shapely.prepare(ground)
    around = [along_bearing(centre, 2.0 * number, size_m).xy for number in range(180)]
    run = _longest_run(shapely.covers(ground, shapely.points(around)).tolist())
    if run is None:
        return
    # A third of the way along the run keeps the line clear of the letter in the middle.
    bearing_deg = 2.0 * (run[0] + 0.30 * (run[1] - run[0]))
    yield Dimension(start=centre, end=along_bearing(centre, bearing_deg, size_m), text=f"{size_m:.2f} m")


def _longest_run(free: list[bool]) -> tuple[int, int] | None:
    """First and last of the longest run of true in a ring."""
    if all(free):
        return (0, len(free) // 2)
    best: tuple[int, int] | None = None
    start: int | None = None
    for number in range(2 * len(free)):
        if free[number % len(free)]:
            start = number if start is None else start
            if best is None or number - start > best[1] - best[0]:
                best = (start, number)
        else:
            start = None
    return best


def _main_labels(option: Option, hole: Position, window: Window) -> Iterator[Label]:
    for number, reference in enumerate(option.references, start=1):
        words = STATION_WORDS[reference.kind]
        words = f"{words} {number}" if len({other.kind for other in option.references}) < len(option.references) else words
        if window.holds(reference.position):
            yield Label(lines=(words,), kind=LabelKind.FACT, anchor=reference.position)
    shape = option.relief_area.shape if option.relief_area else None
    if isinstance(shape, Crescent) and shape.least_m > 0.5:
        seen = seen_part(hole_arc(shape), window)
        if not seen.is_empty and seen.geom_type == "LineString":
            x_m, y_m = seen.coords[-1]
            lines = ("no nearer the hole", f"than {shape.least_m:.2f} m")
            yield Label(lines=lines, kind=LabelKind.RULING, anchor=Position(x_m=x_m, y_m=y_m))


def _ball_label(incident: Incident, main: Option | None, window: Window) -> list[Label]:
    is_station = main is not None and main.references and main.references[0].kind == "ball-spot"
    if incident.ball is None or is_station or not window.holds(incident.ball):
        return []
    return [Label(lines=("ball",), kind=LabelKind.FACT, anchor=incident.ball)]
