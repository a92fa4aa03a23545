"""Relief areas of 0.02 m² and of 40,000 m² are drawn, their words clear and their figures right; a hole without location is refused."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from shapely.geometry import Polygon, box

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Form
from marram.course.course import Course
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulings import Incident, rule_on
from marram.rulings.case.incident import Player
from marram.rulings.case.ruling import Option
from marram.sheets.ruled.ruling_drawing import draw_rulings
from marram.sheets.ruled.ruling_sheets import draw_ruling_sheets
from tests.support.drawn_views import drawn_views, other_words
from tests.support.drawn_words import covered, cut_off, overlaps, read_drawing
from tests.support.ground import course, feature, pond

CROSSED = Position(x_m=0.0, y_m=-70.0)
INCIDENT = Incident(
    hole=1,
    situation="penalty-area",
    form=Form.STROKE_PLAY,
    ball=Position(x_m=0.0, y_m=-65.0),
    crossed_at=CROSSED,
    player=Player(longest_club_in=45.0),
)
BOOK = read_book("2023")


def with_zone(zone: Polygon) -> Course:
    return course(pond(), replace(feature("zone", FeatureKind.DROPPING_ZONE, zone, holes=(1,)), serves="pond"))


SMALL_SQUARE = with_zone(box(0.0, -80.0, 0.1414, -79.8586))  # 0.1414 m squared is 0.01999 m²
STRIP = course(pond(), boundary=box(-300, -70.004, 300, 150))  # two clubs of 45 in. each way, 4.572 m, by 4 mm: 0.0183 m²
LARGE_SQUARE = with_zone(box(-100, -290, 100, -90))  # 200 m by 200 m


def drawings(ground: Course, title: str) -> tuple[Option, str, list[str]]:
    """The option of a title, its letter, and the drawings for the screen and for paper."""
    ruling = rule_on(INCIDENT, ground, BOOK)
    number = next(number for number, option in enumerate(ruling.options) if option.title == title)
    given = [(BOOK, ruling)]
    screen = draw_rulings(INCIDENT, ground, given, is_paper=False)
    return ruling.options[number], "ABCDEFGH"[number], [screen, *draw_ruling_sheets(INCIDENT, ground, given)]


@pytest.mark.parametrize(
    ("ground", "title", "area_m2"),
    [(SMALL_SQUARE, "Dropping zone", 0.02), (STRIP, "Lateral relief", 0.0183), (LARGE_SQUARE, "Dropping zone", 40_000.0)],
    ids=["a square of 0.02 m²", "a strip of 0.02 m²", "a square of 40,000 m²"],
)
def test_an_area_of_any_size_is_drawn_with_its_figure_and_clear_words(ground: Course, title: str, area_m2: float) -> None:
    option, letter, drawn = drawings(ground, title)
    assert option.relief_area is not None
    assert option.relief_area.area_m2 == pytest.approx(area_m2, abs=0.0005)
    told = " ".join(other_words(svg) for svg in drawn[1:]).replace("\u00a0", " ")
    for words in (other_words(drawn[0]).replace("\u00a0", " "), told):
        assert f"area {area_m2:.2f} m²" in words
    for svg in drawn:
        faults = [fault for check in (overlaps, cut_off, covered) for fault in check(read_drawing(svg))]
        assert not faults
    for svg in drawn[:2]:
        views = drawn_views(svg)
        letters = [each for view in views.values() for each in view.letters] + [words[0] for words in views["main"].arrows]
        assert letter in letters


@pytest.mark.parametrize("is_paper", [False, True], ids=["screen", "paper"])
def test_the_length_on_a_strip_of_two_hundredths_is_two_club_lengths(is_paper: bool) -> None:
    _, letter, drawn = drawings(STRIP, "Lateral relief")
    svg = drawn[1 if is_paper else 0]
    main = drawn_views(svg)["main"]
    assert letter in main.letters
    # 2 x 45 x 0.0254 = 2.286; at a small scale the boundary leaves no room for it beside the edge, and the caption tells it.
    assert {words for words in main.words if re.fullmatch(r"\d\.\d\d m", words)} == (set() if is_paper else {"2.29 m"})
    assert "two club-lengths (2.29 m), area 0.02 m²" in other_words(svg).replace("\u00a0", " ")


@pytest.mark.parametrize("is_paper", [False, True], ids=["screen", "paper"])
def test_a_hole_without_a_location_is_refused_with_what_to_do(is_paper: bool) -> None:
    ground = course(pond())
    given = [(BOOK, rule_on(INCIDENT, ground, BOOK))]
    without = replace(ground, features=tuple(each for each in ground.features if each.kind is not FeatureKind.HOLE_LOCATION))
    for refused in (lambda: draw_rulings(INCIDENT, without, given, is_paper=is_paper), lambda: rule_on(INCIDENT, without, BOOK)):
        with pytest.raises(SurveyError, match="Where hole 1 is cut today is not known") as caught:
            refused()
        assert caught.value.where == "Test Ground"
        assert (
            caught.value.hint
            == "Add a feature of kind hole-location for hole 1 to the course, or state it among the hole_locations of the day."
        )
