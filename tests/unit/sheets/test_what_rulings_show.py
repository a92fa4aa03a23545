"""Over two hundred places and every book: what the rulings speak of is in the drawing, and its figures are those of the text."""

from __future__ import annotations

import math
import re
from functools import cache

import pytest
from shapely.geometry import Point, box

from marram.course.frame import Position
from marram.relief.area.shapes import Crescent
from marram.rulebook.book import Book
from marram.rulings.case.ruling import Option
from marram.sheets.ruled.ruled_place import RuledPlace
from marram.sheets.ruled.ruling_layout import SCREEN, Laid, lay_out
from marram.sheets.ruled.ruling_sheets import lay_out_sheet
from marram.sheets.scene.rendering import AS_FILE
from tests.support.drawn_places import DrawnPlace, drawing_of, drawn_places
from tests.support.drawn_views import DrawnView, drawn_views, other_words

LETTERS = "ABCDEFGHIJKLMNOP"
PX_MM = 0.27


def ruled(place: DrawnPlace) -> RuledPlace:
    hole = place.course.hole(place.incident.hole).location
    assert hole is not None
    return RuledPlace(incident=place.incident, course=place.course, hole=hole, given=place.given)


@cache
def views(number: int, paper: str = "") -> dict[str, DrawnView]:
    return drawn_views(drawing_of(drawn_places()[number], is_paper=bool(paper)))


@cache
def shown(number: int, paper: str = "") -> Laid:
    """How the map of a place is laid out."""
    place = ruled(drawn_places()[number])
    return lay_out_sheet(place, None) if paper else lay_out(place, SCREEN, None, AS_FILE)


def has_place(option: Option) -> bool:
    """Whether a ruling says where: by a point, an area or a line."""
    has_area = option.relief_area is not None and option.relief_area.outline().area > 0
    return has_area or bool(option.references) or bool(option.line is not None and option.line.intervals_m)


def points_of(option: Option) -> list[Position]:
    shape = option.relief_area.shape if option.relief_area is not None else None
    chosen = [shape.centre] if isinstance(shape, Crescent) and option.line is not None else []
    line = [option.line.place_at(option.line.intervals_m[0][0])] if option.line is not None and option.line.intervals_m else []
    return [*(reference.position for reference in option.references), *chosen, *line]


def shown_letters(drawn: dict[str, DrawnView], *names: str) -> set[str]:
    """Letters in squares, and letters at arrows."""
    found = set[str]()
    for name in names:
        if name in drawn:
            found |= set(drawn[name].letters)
            pointed = (re.match(r"((?:[A-P], )*[A-P])(?=:|$)", words) for words in drawn[name].arrows)
            found |= {letter for match in pointed if match is not None for letter in match[1].split(", ")}
    return found


@pytest.mark.parametrize("paper", ["", "paper"])
def test_every_option_is_on_the_drawing_or_pointed_to(paper: str) -> None:
    seen = 0
    for number, place in enumerate(drawn_places()):
        drawn, foot = views(number, paper), other_words(drawing_of(place, is_paper=bool(paper)))
        letters = shown_letters(drawn, "main")
        for letter, option in zip(LETTERS, ruled(place).force[1].options, strict=False):
            if has_place(option):
                assert letter in letters, (place.name, letter, option.title)
                seen += 1
            else:
                assert re.search(rf"Not on the map, since no place is stated: [^.]*\b{letter}\b", foot), (place.name, letter)
    assert seen > 300


def test_every_option_of_every_book_is_on_its_small_drawing() -> None:
    seen = 0
    for number, place in enumerate(drawn_places()):
        whole = ruled(place)
        if whole.is_laid_over:
            continue
        for row, (book, ruling) in enumerate(whole.others, start=1):
            letters = shown_letters(views(number), f"small-{row}") | _left_over(place, book)
            for letter, option in zip(LETTERS, ruling.options, strict=False):
                assert letter in letters or not has_place(option), (place.name, book.name, letter, option.title)
                seen += has_place(option)
    assert seen > 300


def _left_over(place: DrawnPlace, book: Book) -> set[str]:
    """Letters for which a small drawing had no room, told beneath it."""
    told = other_words(drawing_of(place, is_paper=False)).replace("\u00a0", " ")
    found = re.findall(r"No room in the small drawings for: ([^.]*(?:\.\d[^.]*)*)\.", told)
    entries = [entry.removeprefix(f"{book.short_title}, ") for entry in "; ".join(found).split("; ") if entry.startswith(book.short_title)]
    return {letter for entry in entries for letter in re.findall(r"\b[A-P]\b", entry)}


def test_what_another_book_laid_over_says_elsewhere_is_drawn_or_pointed_to() -> None:
    seen = 0
    for number, place in enumerate(drawn_places()):
        whole = ruled(place)
        if not whole.is_laid_over:
            continue
        window, drawn = shown(number).map.window, views(number)["main"]
        own = [point for option in whole.force[1].options for point in points_of(option)]
        for _, ruling in whole.others:
            for point in (point for option in ruling.options for point in points_of(option)[:1]):
                if any(point.distance_m(other) < 0.5 for other in own):
                    continue
                seen += 1
                if not window.holds(point):
                    # An arrow, of another book: its words begin with no letter of an option.
                    assert any(not re.match(r"(?:[A-P], )*[A-P]:|hole$|ball$", words) for words in drawn.arrows), place.name
    assert seen > 0


def test_out_of_bounds_shows_the_boundary_in_the_map_or_on_the_plan() -> None:
    seen = 0
    for number, place in enumerate(drawn_places()):
        if place.incident.situation == "out-of-bounds":
            drawn = views(number)
            assert any("bound" in drawn[name].classes for name in ("main", "plan") if name in drawn), place.name
            seen += 1
    assert seen > 10


def test_the_edge_of_the_condition_or_the_water_is_in_the_map() -> None:
    seen = 0
    for number, place in enumerate(drawn_places()):
        for option in _about(ruled(place)):
            point = option.references[0] if option.references else None
            if point is not None and point.kind == "crossing-point":
                drawn = views(number)["main"].classes
                assert drawn & {"red", "yellow", "unmarked", "npz"}, place.name
                seen += 1
            if option.met is not None and point is not None and not option.met.condition.geometry.is_empty:
                window = shown(number).map.window
                reach_m = Point(point.position.xy).distance(option.met.condition.geometry)
                if reach_m < 4.0:
                    assert box(*window.bounds).intersects(option.met.condition.geometry), place.name
                    seen += 1
    assert seen > 30


def _about(whole: RuledPlace) -> list[Option]:
    """The options that the drawing is about: of each book the one that the book in force measures about a point last."""
    return [option for _, ruling in whole.given for option in ruling.options if (option.procedure, option.carried_out_as) == _main(whole)]


@pytest.mark.parametrize("paper", ["", "paper"])
def test_the_areas_of_all_books_are_whole_in_the_map_and_large(paper: str) -> None:
    seen = large = 0
    for number, place in enumerate(drawn_places()):
        whole, view = ruled(place), shown(number, paper).map
        procedure = _main(whole)
        if procedure is None:
            continue
        window = box(*view.window.bounds)
        for _, ruling in whole.given:
            for option in ruling.options:
                if (
                    (option.procedure, option.carried_out_as) == procedure
                    and option.relief_area is not None
                    and isinstance(option.relief_area.shape, Crescent)
                ):
                    assert window.covers(option.relief_area.outline()) or option.relief_area.outline().is_empty, place.name
                    seen += 1
        size_m = next(option.size_m for option in whole.force[1].options if (option.procedure, option.carried_out_as) == procedure)
        assert size_m is not None
        large += size_m * view.units_per_m * PX_MM >= 45 - 1e-6 if paper else size_m * view.units_per_m >= 70
    assert seen > 100
    assert large >= 60  # on paper just 60: where two books have many options their sheet leaves the map less room


def _main(whole: RuledPlace) -> tuple[str, str] | None:
    """What the drawing is about: the last area about a point, one back at an earlier stroke only where there is no other."""
    found = [
        option
        for option in whole.force[1].options
        if option.references
        and option.relief_area is not None
        and option.relief_area.parts
        and isinstance(option.relief_area.shape, Crescent)
    ]
    here = [option for option in found if option.references[0].kind not in {"previous-stroke", "last-stroke-outside"}]
    return next(((option.procedure, option.carried_out_as) for option in reversed(here or found)), None)


def test_small_drawings_are_at_one_scale_and_hold_the_whole_area_of_each_book() -> None:
    seen = 0
    for place in drawn_places():
        whole = ruled(place)
        procedure = _main(whole)
        if whole.is_laid_over or procedure is None:
            continue
        frames = _small_frames(drawing_of(place, is_paper=False))
        assert len(frames) == len(whole.others)
        for (_, ruling), ((x, y, width, height), corners) in zip(whole.others, frames, strict=True):
            alike = [option for option in ruling.options if (option.procedure, option.carried_out_as) == procedure]
            if not alike or alike[0].relief_area is None or not isinstance(alike[0].relief_area.shape, Crescent):
                continue
            for px, py in corners:
                assert x - 1 <= px <= x + width + 1 and y - 1 <= py <= y + height + 1, place.name
                seen += 1
            _refuse_another_scale(alike[0], corners)
        assert len({(round(width, 2), round(height, 2)) for (_, _, width, height), _ in frames}) == 1
    assert seen > 100


def _refuse_another_scale(option: Option, corners: list[tuple[float, float]]) -> None:
    """The area drawn must have one number of units to the metre across and up."""
    assert option.relief_area is not None
    if not corners:
        return
    least_x, least_y, most_x, most_y = option.relief_area.outline().bounds
    across = (max(x for x, _ in corners) - min(x for x, _ in corners)) / (most_x - least_x)
    up = (max(y for _, y in corners) - min(y for _, y in corners)) / (most_y - least_y)
    assert math.isclose(across, up, rel_tol=0.02)


def _small_frames(svg: str) -> list[tuple[tuple[float, float, float, float], list[tuple[float, float]]]]:
    """The frame of each small drawing with the corners of the area that it is about."""
    found = []
    for part in re.findall(r'<clipPath id="clip-small-\d+">.*?(?=<clipPath|$)', svg, re.DOTALL):
        frame = re.search(r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"', part)
        assert frame is not None
        area = re.search(r'<path class="relief" [^>]*d="([^"]*)"', part)
        corners = [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", area[1])] if area else []
        x, y, width, height = map(float, frame.groups())
        found.append(((x, y, width, height), corners))
    return found


def test_lengths_on_the_drawing_are_those_of_the_ruling() -> None:
    seen = 0
    for number, place in enumerate(drawn_places()):
        force = ruled(place).force[1]
        sizes = {f"{option.size_m:.2f} m" for option in force.options if option.size_m is not None}
        limits = {f"than {option.no_nearer_m:.2f} m" for option in force.options if option.no_nearer_m is not None}
        for word in views(number)["main"].words:
            if re.fullmatch(r"\d+\.\d\d m", word):
                assert word in sizes, (place.name, word)
                seen += 1
            elif re.fullmatch(r"than \d+\.\d\d m", word):
                assert word in limits, (place.name, word)
                seen += 1
    assert seen > 100


def test_the_text_says_the_sizes_and_areas_that_are_drawn() -> None:
    for place in drawn_places():
        told = other_words(drawing_of(place, is_paper=False)).replace("\u00a0", " ")
        for _, ruling in place.given:
            for option in ruling.options:
                if option.relief_area is not None:
                    assert f"area {option.relief_area.area_m2:.2f} m²" in told, place.name


def test_an_arrow_tells_the_distance_from_a_point_of_the_ruling() -> None:
    seen = 0
    for number, place in enumerate(drawn_places()):
        whole, window = ruled(place), shown(number).map.window
        stations = [p for _, ruling in place.given for o in ruling.options for p in points_of(o)]
        starts = [*(point for point in stations if window.holds(point)), window.middle]
        ends = dict(zip(LETTERS, whole.force[1].options, strict=False))
        for words, told_m in views(number)["main"].arrows.items():
            if not re.match(r"(?:[A-P], )*[A-P](?::|$)", words):
                continue
            places = points_of(ends[words[0]]) or _inside(ends[words[0]])
            assert any(round(start.distance_m(end)) == told_m for start in starts for end in places), (place.name, words, told_m)
            seen += 1
    assert seen > 50


def _inside(option: Option) -> list[Position]:
    assert option.relief_area is not None
    point = option.relief_area.outline().representative_point()
    return [Position(x_m=point.x, y_m=point.y)]
