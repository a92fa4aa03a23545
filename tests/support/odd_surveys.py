"""Odd surveys: what a course file lacks, says twice, or leaves unsound. Each is laid over a whole course."""

from __future__ import annotations

from collections.abc import Callable

from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box

from tests.support.odd_survey import BOUNDARY, HOLES, Survey

_FAR_M = 5_000.0


def _boundary_only(survey: Survey) -> None:
    """Nothing but a boundary."""
    survey.features = []


def _one_hole(survey: Survey) -> None:
    """Nothing but a boundary and one hole."""
    survey.features = []
    survey.hole(1, *HOLES[1])


def _lines_and_pins(survey: Survey) -> None:
    """Holes by lines and hole locations alone."""
    survey.without("teeing-area", "putting-green")


def _no_tees(survey: Survey) -> None:
    survey.without("teeing-area")


def _no_greens(survey: Survey) -> None:
    survey.without("putting-green")


def _no_lines(survey: Survey) -> None:
    survey.without("line-of-play")


def _no_water_no_bunkers(survey: Survey) -> None:
    survey.without("penalty-area", "bunker")


def _no_boundary(survey: Survey) -> None:
    survey.boundary = Polygon()


def _unnumbered(survey: Survey) -> None:
    """Nothing says which hole it serves."""
    for properties, _ in survey.features:
        properties.pop("holes", None)


def _two_pieces(survey: Survey) -> None:
    """A second piece of the course, with a hole of its own, 5 km east of the first."""
    survey.boundary = MultiPolygon([*getattr(survey.boundary, "geoms", [survey.boundary]), box(_FAR_M, -200, _FAR_M + 80, 200)])
    survey.hole(4, (_FAR_M + 40, -150), (_FAR_M + 40, 150))
    survey.add("penalty-area", box(_FAR_M + 20, -20, _FAR_M + 60, 5), mark="red", what="pond")


def _hole_in_water(survey: Survey) -> None:
    """A hole location, and half its green, in a penalty area."""
    x_m, y_m = HOLES[1][1]
    survey.add("penalty-area", box(x_m - 20, y_m - 20, x_m + 20, y_m + 6), mark="yellow", what="pond")


def _hole_off_green(survey: Survey) -> None:
    """A hole location that lies 30 m off its green."""
    survey.features = [
        (properties, Point(HOLES[2][1][0], HOLES[2][1][1] + 41) if properties["id"] == "hole-2" else geometry)
        for properties, geometry in survey.features
    ]


def _several_for_one(survey: Survey) -> None:
    """Two greens, lines and hole locations for one hole."""
    survey.add("putting-green", box(30, 130, 50, 150), name="green-1-winter", holes=[1])
    survey.add("line-of-play", LineString([HOLES[1][0], (40, 140)]), name="line-1-winter", par=4, stroke_index=1, holes=[1])
    survey.add("hole-location", Point(40, 140), name="hole-1-winter", holes=[1])


def _line_doubles_back(survey: Survey) -> None:
    """A line of play that runs beyond its green and back, with a corner twice."""
    x_m, y_m = HOLES[3][1]
    back = LineString([HOLES[3][0], (x_m, 0), (x_m, 0), (x_m + 5, y_m + 30), (x_m, y_m)])
    survey.features = [(own, back if own["id"] == "line-3" else geometry) for own, geometry in survey.features]


def _bow_tie(survey: Survey) -> None:
    """An outline that crosses itself, and one that crosses itself where a boundary does."""
    survey.add("penalty-area", Polygon([(20, -20), (40, 10), (40, -20), (20, 10)]), mark="red", what="pond")
    survey.add("bunker", Polygon([(60, 20), (70, 24), (70, 20), (60, 25)]))


def _open_rings(survey: Survey) -> None:
    """Rings that do not come back to their start."""
    for name, outline in (("pond-open", box(20, -80, 40, -60)), ("pond-open-too", box(50, -80, 60, -60))):
        survey.rings_open.add(survey.add("penalty-area", outline, name=name, mark="yellow", what="pond"))


def _unmarked(survey: Survey) -> None:
    """All water unmarked, one with a proposal."""
    survey.add("penalty-area", box(20, 20, 40, 40), mark="red", proposed="red", what="pond")
    for properties in survey.of_kind("penalty-area"):
        properties["mark"] = "unmarked"


def _no_accuracy(survey: Survey) -> None:
    survey.sigma_m = None


def _coarse(survey: Survey) -> None:
    survey.sigma_m = 8.0


def _high_numbers(survey: Survey) -> None:
    """Holes that are numbered 28, 29 and 30."""
    for properties, _ in survey.features:
        if "holes" in properties:
            properties["holes"] = [number + 27 for number in properties["holes"]]  # type: ignore[attr-defined]


def _tight_boundary(survey: Survey) -> None:
    """A boundary that leaves tees and greens half outside."""
    survey.boundary = BOUNDARY.buffer(-50, join_style="mitre")


OF_THE_SURVEY: dict[str, Callable[[Survey], None]] = {
    "boundary-only": _boundary_only,
    "one-hole": _one_hole,
    "lines-and-pins": _lines_and_pins,
    "no-tees": _no_tees,
    "no-greens": _no_greens,
    "no-lines": _no_lines,
    "no-water-no-bunkers": _no_water_no_bunkers,
    "no-boundary": _no_boundary,
    "unnumbered": _unnumbered,
    "two-pieces": _two_pieces,
    "hole-in-water": _hole_in_water,
    "hole-off-green": _hole_off_green,
    "several-for-one": _several_for_one,
    "line-doubles-back": _line_doubles_back,
    "bow-tie": _bow_tie,
    "open-rings": _open_rings,
    "unmarked": _unmarked,
    "no-accuracy": _no_accuracy,
    "coarse": _coarse,
    "high-numbers": _high_numbers,
    "tight-boundary": _tight_boundary,
}
