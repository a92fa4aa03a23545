"""Every place of the sweep has a drawing for the screen and one for paper, and drawing it twice gives the same bytes."""

from __future__ import annotations

from xml.etree import ElementTree

from marram.sheets.ruled.ruling_drawing import draw_rulings
from tests.support.drawn_places import PLACES, drawing_of, drawn_places, few_places


def test_every_place_is_drawn_for_screen_and_paper() -> None:
    places = drawn_places()
    assert len(places) == PLACES
    assert len({place.course.name for place in places}) == 3
    for place in places:
        for is_paper in (False, True):
            ElementTree.fromstring(drawing_of(place, is_paper=is_paper))


def test_equal_input_gives_equal_bytes() -> None:
    for place in few_places(10):
        again = draw_rulings(place.incident, place.course, place.given, is_paper=False)
        assert again == drawing_of(place, is_paper=False)
