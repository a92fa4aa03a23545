"""What a ruling pencils over the ground, with its letters, words and measured lengths."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import shapely
from shapely.geometry import Point

from marram.course.frame import Position
from marram.relief.area.lines import LineBack, along_bearing
from marram.relief.area.shapes import Crescent
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import FoundPoint, Option, Ruling
from marram.sheets.drawn.doubt_marks import doubt_items, doubt_labels
from marram.sheets.drawn.relief_shapes import (
    foot_items,
    hole_arc,
    incident_items,
    incident_spots,
    is_drawn_alike,
    main_option,
    option_items,
    option_spots,
    seen_part,
)
from marram.sheets.scene.scene import Dimension, Item, Label, LabelKind, Role, Spot, Window

LETTERS = "ABCDEFGHIJ"
_SHORT_LINE_M = 100.0
"""A usable line that ends sooner is told with its end: it stays in a bunker, or the boundary is near."""
STATION_WORDS: Mapping[MeasuredFrom | FoundPoint, str] = {
    MeasuredFrom.CROSSING_POINT: "crossing point",
    MeasuredFrom.OPPOSITE_EDGE: "opposite point",
    MeasuredFrom.BALL_SPOT: "spot of the ball",
    MeasuredFrom.PREVIOUS_STROKE: "previous stroke",
    MeasuredFrom.LAST_STROKE_OUTSIDE: "last stroke from outside",
    MeasuredFrom.STATED_CROSSING: "crossing point",
    MeasuredFrom.SPOT_BEHIND_BALL: "right behind the ball",
    MeasuredFrom.ESTIMATED_SPOT: "estimated spot",
    FoundPoint.FAIRWAY: "fairway point",
    MeasuredFrom.NEAREST_POINT_OF_COMPLETE_RELIEF: "nearest point",
    FoundPoint.MAXIMUM_AVAILABLE_RELIEF: "most relief",
    MeasuredFrom.EQUAL_ARC_POINT: "sideways, as far from the hole",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """Everything pencilled for one ruling."""

    items: tuple[Item, ...]
    spots: tuple[Spot, ...]
    labels: tuple[Label, ...]
    dimensions: tuple[Dimension, ...]
    away: tuple[tuple[Position, str], ...]


def ruling_marks(ruling: Ruling, incident: Incident, hole: Position, window: Window, *, lettered: bool, like: str = "") -> Marks:
    """The marks of the book in force.

    Args:
        ruling: The ruling.
        incident: What happened.
        hole: Where the hole is.
        window: What is shown.
        lettered: Whether options carry their letters and words.
        like: The procedure that the drawing is about, if this book has it.
    """
    items: list[Item] = []
    spots: list[Spot] = []
    labels: list[Label] = []
    dimensions: list[Dimension] = []
    away: list[tuple[Position, str]] = []
    main = main_option(ruling, like)
    for letter, option in zip(LETTERS, ruling.options, strict=False):
        items += option_items(option, hole, is_main=option is main)
        spots += option_spots(option, window)
        if lettered:
            labels += _option_labels(letter, option, window)
            away += _option_away(letter, option, window)
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
    if lettered and not window.holds(hole, 0.2):
        away.append((hole, "hole"))
    return Marks(
        items=tuple(items),
        spots=tuple(dict.fromkeys(spots)),
        labels=tuple(labels),
        dimensions=tuple(dimensions),
        away=tuple(away),
    )


def other_book_marks(ruling: Ruling, sign: str, role: Role, in_force: Ruling, window: Window) -> tuple[list[Item], list[Label]]:
    """Edges of another book's areas, where they differ from those of the book in force."""
    own = {option.procedure: option for option in in_force.options}
    items: list[Item] = []
    labels: list[Label] = []
    for option in ruling.options:
        if option.relief_area is None or not option.relief_area.parts:
            continue
        outline = option.relief_area.outline()
        if is_drawn_alike(outline, own.get(option.procedure)):
            continue
        items.append(Item(role=role, geometry=outline.boundary, title=sign))
        inside = seen_part(outline.boundary, window)
        if not inside.is_empty:
            spot = inside.interpolate(0.5, normalized=True) if inside.geom_type == "LineString" else inside.representative_point()
            at = Position(x_m=spot.x, y_m=spot.y)
            labels.append(Label(lines=(sign,), kind=LabelKind.BOOK, anchor=at, must_show=False, along=inside, names=role))
    return items, labels


def _option_labels(letter: str, option: Option, window: Window) -> Iterator[Label]:
    place = _letter_place(option, window)
    if place is not None:
        yield Label(lines=(letter,), kind=LabelKind.LETTER, anchor=place, is_inside=True)
    if option.line is not None and option.line.intervals_m:
        near_m = option.line.intervals_m[0][0]
        at_m = _last_seen_m(option, window)
        if at_m is not None and at_m > near_m:
            where = option.line.place_at(near_m + 0.72 * (at_m - near_m))
            yield Label(lines=("back on the line,", how_far_back(option.line)), kind=LabelKind.RULING, anchor=where, must_show=False)


def how_far_back(line: LineBack) -> str:
    """How far back on a line a ball may be dropped, in words."""
    last_m = line.intervals_m[-1][1] if line.intervals_m else 0.0
    return "any distance back" if last_m > _SHORT_LINE_M else f"up to {last_m:.1f} m back"


def _last_seen_m(option: Option, window: Window) -> float | None:
    """How far back the usable line can be seen in the window."""
    line = option.line
    if line is None or not line.intervals_m:
        return None
    near_m, far_m = line.intervals_m[0]
    seen = [near_m + 0.25 * step for step in range(int(min(far_m - near_m, 200) / 0.25))]
    inside = [back_m for back_m in seen if window.holds(line.place_at(back_m), 0.2)]
    return max(inside, default=None)


def _letter_place(option: Option, window: Window) -> Position | None:
    """Where the option's letter stands: well inside its area, else on its line."""
    if option.relief_area is not None and option.relief_area.parts:
        seen = shapely.clip_by_rect(option.relief_area.outline(), *window.bounds)
        parts = [part for part in shapely.get_parts(seen) if part.area > 0.01]
        if parts:
            circle = shapely.maximum_inscribed_circle(max(parts, key=lambda part: part.area), tolerance=0.01)
            x_m, y_m = circle.coords[0]
            return Position(x_m=x_m, y_m=y_m)
    at_m = _last_seen_m(option, window)
    if option.line is not None and at_m is not None and at_m > 0.5:
        near_m = option.line.intervals_m[0][0]
        return option.line.place_at(near_m + 0.45 * (at_m - near_m))
    return None


def _option_away(letter: str, option: Option, window: Window) -> Iterator[tuple[Position, str]]:
    shape = option.relief_area.shape if option.relief_area else None
    if isinstance(shape, Crescent) and option.line is not None and not window.holds(shape.centre):
        yield shape.centre, f"{letter}: area on the line"
    elif option.references and not window.holds(option.references[0].position):
        yield option.references[0].position, f"{letter}: {STATION_WORDS[option.references[0].kind]}"


def _radius(option: Option) -> Iterator[Dimension]:
    """The size, measured from the reference point along the middle of the longest run of free bearings."""
    area, size_m = option.relief_area, option.size_m
    if area is None or size_m is None or not isinstance(area.shape, Crescent) or not area.parts:
        return
    centre = area.shape.centre
    ground = area.outline().buffer(0.02)
    free = [ground.covers(Point(along_bearing(centre, 2.0 * n, size_m).xy)) for n in range(180)]
    run = _longest_run(free)
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
