"""What a ruling pencils over the ground: areas, lines, arcs, points and measured lengths."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Hand
from marram.course.frame import Position
from marram.relief.area.lines import LineBack, along_bearing
from marram.relief.area.shapes import Crescent
from marram.relief.clear.stance import STANCES, footprint, sample_position
from marram.rulebook.vocabulary import MeasuredFrom
from marram.rulings.case.incident import Incident
from marram.rulings.case.ruling import FoundPoint, Option, Ruling
from marram.rulings.measure.obstructed import USUAL_CLUB
from marram.sheets.drawn.doubt_marks import doubt_items, doubt_labels
from marram.sheets.scene.scene import Dimension, Item, Label, LabelKind, Role, Spot, SpotKind, Window

LETTERS = "ABCDEFGHIJ"
_LONGEST_LINE_M = 2_000.0
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


def main_option(ruling: Ruling, like: str = "") -> Option | None:
    """The option that a drawing is about.

    Args:
        ruling: The ruling.
        like: A procedure that is taken if the ruling has it, so that drawings of several books show the same one.

    Returns:
        That procedure's option, else the last one with a disc measured, else the last with any place at all.
    """
    alike = [option for option in ruling.options if option.procedure == like]
    if alike:
        return alike[0]
    discs = [o for o in ruling.options if o.relief_area and isinstance(o.relief_area.shape, Crescent) and o.references]
    placed = [option for option in ruling.options if option.references]
    best = discs or placed or list(ruling.options)
    return best[-1] if best else None


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
        items += _option_items(option, hole, window, is_main=option is main)
        spots += _option_spots(option, window)
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
        items += _feet(main, incident, hole)
    spots += _incident_spots(incident, hole, window)
    items += _incident_items(incident, main)
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
        if _is_drawn_alike(outline, own.get(option.procedure)):
            continue
        items.append(Item(role=role, geometry=outline.boundary, title=sign))
        inside = _within(outline.boundary, window)
        if not inside.is_empty:
            point = inside.interpolate(0.42, normalized=True) if inside.geom_type == "LineString" else None
            spot = point or inside.representative_point()
            labels.append(Label(lines=(sign,), kind=LabelKind.BOOK, anchor=Position(x_m=spot.x, y_m=spot.y), is_inside=True))
    return items, labels


def _is_drawn_alike(outline: BaseGeometry, same: Option | None) -> bool:
    """Whether the book in force draws the same edge, so that a second line would only thicken it."""
    if same is None or same.relief_area is None or not same.relief_area.parts:
        return False
    return bool(outline.symmetric_difference(same.relief_area.outline()).area < 0.02)


def _within(geometry: BaseGeometry, window: Window) -> BaseGeometry:
    least_x, least_y, most_x, most_y = window.bounds
    inside = shapely.clip_by_rect(geometry, least_x + 0.3, least_y + 0.3, most_x - 0.3, most_y - 0.3)
    merged = shapely.line_merge(inside) if inside.geom_type == "MultiLineString" else inside
    return max(shapely.get_parts(merged), key=lambda part: part.length, default=merged)


def _option_items(option: Option, hole: Position, window: Window, *, is_main: bool) -> Iterator[Item]:
    if option.line is not None:
        yield from _line_items(option)
    if option.relief_area is not None and option.relief_area.parts:
        role = Role.RELIEF if is_main else Role.RELIEF_SECOND
        yield Item(role=role, geometry=option.relief_area.outline(), title=option.title)
        if isinstance(option.relief_area.shape, Crescent):
            yield Item(role=Role.HOLE_ARC, geometry=_hole_arc(option.relief_area.shape))
    if is_main and option.references and option.references[0].position.distance_m(hole) > 0.5:
        yield Item(role=Role.LINE_TO_HOLE, geometry=LineString([option.references[0].position.xy, hole.xy]))


def _line_items(option: Option) -> Iterator[Item]:
    line = option.line
    if line is None:
        return
    last_m = 0.0
    for near_m, far_m in line.intervals_m:
        if near_m > last_m:
            yield Item(role=Role.LINE_BARRED, geometry=_stretch(option, last_m, near_m))
        yield Item(role=Role.LINE_BACK, geometry=_stretch(option, near_m, min(far_m, _LONGEST_LINE_M)))
        last_m = far_m


def _stretch(option: Option, near_m: float, far_m: float) -> LineString:
    line = option.line
    assert line is not None
    return LineString([line.place_at(near_m).xy, line.place_at(far_m).xy])


def _hole_arc(shape: Crescent) -> LineString:
    """The circle about the hole, only a metre past the area at each end."""
    if shape.least_m <= 0:
        return LineString()
    half = math.pi if shape.least_m <= shape.radius_m else math.asin(min(1.0, shape.radius_m / shape.least_m))
    half = min(math.pi, half + 1.0 / shape.least_m)
    middle = math.radians(shape.hole.bearing_deg(shape.centre))
    turns = [middle - half + 2 * half * number / 96 for number in range(97)]
    return LineString([along_bearing(shape.hole, math.degrees(turn), shape.least_m).xy for turn in turns])


def _option_spots(option: Option, window: Window) -> Iterator[Spot]:
    for reference in option.references:
        if window.holds(reference.position):
            yield Spot(kind=SpotKind.STATION, position=reference.position)
    shape = option.relief_area.shape if option.relief_area else None
    if option.line is not None and isinstance(shape, Crescent) and window.holds(shape.centre):
        yield Spot(kind=SpotKind.CHOSEN, position=shape.centre)


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
        seen = _within(_hole_arc(shape), window)
        if not seen.is_empty and seen.geom_type == "LineString":
            x_m, y_m = seen.coords[-1]
            lines = ("no nearer the hole", f"than {shape.least_m:.2f} m")
            yield Label(lines=lines, kind=LabelKind.RULING, anchor=Position(x_m=x_m, y_m=y_m))


def _feet(option: Option, incident: Incident, hole: Position) -> Iterator[Item]:
    """Outlines of the feet at each nearest point, for the hand and club that were used."""
    hand = incident.player.hand
    if hand is None or not option.references or option.references[0].clearance_m is None:
        return
    samples = footprint(STANCES[incident.player.club or USUAL_CLUB], Hand(hand), frozenset({"stance"}))
    for reference in option.references:
        discs = [Point(sample_position(reference.position, hole, sample).xy).buffer(sample.radius_m) for sample in samples]
        yield Item(role=Role.FOOT, geometry=shapely.union_all(discs))


def _incident_spots(incident: Incident, hole: Position, window: Window) -> Iterator[Spot]:
    if incident.ball is not None and window.holds(incident.ball):
        yield Spot(kind=SpotKind.BALL, position=incident.ball)
    if window.holds(hole):
        yield Spot(kind=SpotKind.HOLE, position=hole)


def _incident_items(incident: Incident, main: Option | None) -> Iterator[Item]:
    if incident.flight is not None:
        yield Item(role=Role.FLIGHT, geometry=LineString([place.xy for place in incident.flight]))
    elif incident.ball is not None and main is not None and main.references:
        reference = main.references[0]
        if reference.kind == "crossing-point" and reference.position.distance_m(incident.ball) > 0.1:
            yield Item(role=Role.FLIGHT, geometry=LineString([incident.ball.xy, reference.position.xy]))


def _ball_label(incident: Incident, main: Option | None, window: Window) -> list[Label]:
    is_station = main is not None and main.references and main.references[0].kind == "ball-spot"
    if incident.ball is None or is_station or not window.holds(incident.ball):
        return []
    return [Label(lines=("ball",), kind=LabelKind.FACT, anchor=incident.ball)]
