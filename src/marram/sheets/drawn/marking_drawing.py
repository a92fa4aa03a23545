"""The check of the marking as drawings: the whole course with its places numbered, and each place to scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shapely.geometry import LineString

from marram.core.terms import Area
from marram.core.words import counted
from marram.course.course import Course
from marram.course.frame import Position
from marram.relief.area.area import measure_relief_area
from marram.relief.area.shapes import Crescent
from marram.relief.marking.places import MarkingPlace
from marram.rulebook.book import Book
from marram.rulebook.wording.explain import area_words
from marram.sheets.drawn.course_drawing import draw_map, play_lines
from marram.sheets.drawn.hole_names import MapMarks
from marram.sheets.scene.scene import Item, Label, LabelKind, Role, Spot, SpotKind

Under = Sequence[tuple[Book, float | None, Sequence[MarkingPlace], str]]
_AROUND_SIZES = 4.0
_LETTERED = {
    "nowhere": "Nowhere to drop.",
    "only-in-other-penalty-area": "Next to nothing but another penalty area.",
    "only-in-bunker": "Next to nothing but a bunker.",
    "no-play-zone": "Most of the ground is in a no play zone.",
    "small": "Small.",
    "mostly-out-of-bounds": "Most of the ground is out of bounds.",
}


def draw_marking(course: Course, under: Under, besides: int = 0) -> Iterator[tuple[str, str]]:
    """Draw the check of a course's marking.

    Args:
        course: The course.
        under: Each book with its size of lateral relief, metres, its places, and why nothing was tried where that is so.
        besides: How many faults the list has that are of no place on a plan: stakes too far apart, odd holes, water untried.

    Returns:
        File names with SVG text: the course once a book, then each serious place.
    """
    for book, size_m, places, why_untried in under:
        serious = [place for place in places if place.is_serious]
        end = f"-{book.name.replace('+', '-')}" if len(under) > 1 else ""
        yield (
            f"course{end}.svg",
            _whole(course, book, serious, _sum_words(len(serious), besides, why_untried)),
        )
        if size_m is not None:
            for number, place in enumerate(serious, start=1):
                yield f"place-{number:02d}-hole-{place.hole}{end}.svg", _one(course, book, size_m, place, number)


def _sum_words(placed: int, besides: int, why_untried: str) -> str:
    """How many faults there are, as the list counts them."""
    if why_untried and not placed:
        return f"Nothing was tried: {why_untried}" + (f" {counted(besides, 'fault')}, told in the list." if besides else "")
    found = f"{counted(placed, 'fault')}, numbered as in the list." if placed else "No fault was found on the edges."
    return f"{found} {counted(besides, 'fault')} besides, told in the list." if besides else found


def _spoken(place: MarkingPlace) -> str:
    """The place as one would walk to it, and no name from the survey's file."""
    along = "" if place.along is None else f" {place.along.words}"
    return f"Hole {place.hole}, {place.feature.noun}{along}"


def _whole(course: Course, book: Book, places: Sequence[MarkingPlace], told: str) -> str:
    labels = [Label(lines=(str(number),), kind=LabelKind.FACT, anchor=place.at) for number, place in enumerate(places, start=1)]
    caption = [f"{number}. {_spoken(place)}: {_LETTERED[place.fault.value]}" for number, place in enumerate(places, start=1)]
    return draw_map(
        course,
        None,
        course.boundary.bounds,
        title=f"{course.name}: marking",
        marks=MapMarks(
            labels=tuple(labels),
            items=tuple(play_lines(course)),
            spots=tuple(Spot(kind=SpotKind.CHOSEN, position=place.at) for place in places),
            meanings=((SpotKind.CHOSEN, "place with a fault"),),
        ),
        caption=[*caption, told, f"{book.title}, {book.stamp}"],
    )


def _one(course: Course, book: Book, size_m: float, place: MarkingPlace, number: int) -> str:
    hole_at = course.hole(place.hole).location
    assert hole_at is not None  # the check leaves out holes without one
    shape = Crescent(centre=place.at, radius_m=size_m, hole=hole_at, least_m=place.at.distance_m(hole_at))
    area = measure_relief_area(shape, course, place.hole, may_lie_in=lambda area: area in place.area_m2, without=[place.area.geometry])
    items = [Item(role=Role.OTHER_ESTIMATE, geometry=shape.outline(), title="all ground within reach and not nearer the hole")]
    items += [Item(role=Role.RELIEF, geometry=area.outline(), title="where a ball may be dropped")] if area.parts else []
    if len(place.stretch) > 1:
        items.append(Item(role=Role.FAN, geometry=LineString(place.stretch).buffer(0.25), title="stretch of edge with this fault"))
    x, y = place.at.xy
    around_m = _AROUND_SIZES * size_m
    parts = [f"{m2:.2f} m² {area_words(book, kind)}" for kind, m2 in place.area_m2.items() if m2 >= 0.005]
    lost = [
        f"{m2:.2f} m² {words}"
        for words, m2 in (
            ("in the same penalty area", place.own_m2),
            (area_words(book, Area.OUT_OF_BOUNDS), place.out_of_bounds_m2),
            ("in a no play zone", place.zone_m2),
        )
        if m2 >= 0.005
    ]
    return draw_map(
        course,
        place.hole,
        (x - around_m, y - 0.62 * around_m, x + around_m, y + 0.62 * around_m),
        title=f"{number}. {_spoken(place)}",
        marks=MapMarks(
            labels=(Label(lines=("crossing point",), kind=LabelKind.FACT, anchor=place.at), _hole_label(place, hole_at, around_m)),
            items=tuple(items),
            spots=(Spot(kind=SpotKind.STATION, position=place.at),),
        ),
        caption=[
            _LETTERED[place.fault.value] + f" The same fault along {max(place.extent_m, 0.5):.1f} m of edge.",
            "A ball may be dropped on: " + (", ".join(parts) or "nothing") + ".",
            "Lost: " + (", ".join(lost) or "nothing") + ".",
            f"{book.title}, {book.stamp}; within {size_m:.2f} m",
        ],
    )


def _hole_label(place: MarkingPlace, hole_at: Position, around_m: float) -> Label:
    """A word that says where the hole lies, at the edge of the picture."""
    away_m = place.at.distance_m(hole_at)
    share = min(0.8, 0.5 * around_m / away_m) if away_m > 0 else 0.0
    spot = Position(x_m=place.at.x_m + share * (hole_at.x_m - place.at.x_m), y_m=place.at.y_m + share * (hole_at.y_m - place.at.y_m))
    return Label(lines=(f"to the hole, {away_m:.0f} m",), kind=LabelKind.FACT, anchor=spot, is_inside=True, must_show=False)
