"""A page asks the office for drawings: window, words, light, and the style sheet that they stand under."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from marram.core.errors import DataError
from marram.core.terms import Club, Hand
from marram.interchange.courses.course_geojson import read_course
from marram.office.courses.draw_ground import draw_ground, draw_place
from marram.office.courses.find_places import find_places
from marram.office.drawing_asked import ask_drawing, drawing_style
from marram.office.play.give_ruling import draw_ruling
from marram.rulings.case.incident import Player
from tests.support.ruled_files import ruled_files, workroom

_ROOT = Path(__file__).parents[3]
_MOOR = _ROOT / "examples" / "courses" / "thimble-moor.geojson"
_POND = _ROOT / "examples" / "incidents" / "pond-7.toml"
_PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45.0, club=Club.IRON)


def test_several_drawings_stand_on_one_page_under_one_style_sheet() -> None:
    course = read_course(_MOOR)
    made = ruled_files(_POND, _MOOR, ("2023",))
    four = ruled_files(_POND, _MOOR, ("2016", "draft-2017", "2019", "2023"))
    found = find_places(workroom().course(_MOOR), "penalty-area-lateral-red", workroom().books(["2023"]), player=_PLAYER, count=1)
    drawings = [
        draw_ruling(four, rendering=ask_drawing(on_page="four")),
        draw_place(found, found.places[0], is_paper=False, rendering=ask_drawing(on_page="place")),
        draw_ground(course, hole=7, rendering=ask_drawing(on_page="plan")),
        draw_ruling(made, rendering=ask_drawing(on_page="ruling")),
        draw_ruling(made, rendering=ask_drawing(on_page="bare", has_words=False, width_px=390.0)),
    ]
    page = "".join(drawings)
    names = re.findall(r'\bid="([^"]*)"', page)
    assert len(names) == len(set(names))
    assert set(re.findall(r"url\(#([^)]*)\)", page)) <= set(names)
    assert "<style" not in page
    classes = set(re.findall(r"\.([a-z][a-z0-9-]*)", drawing_style()))
    assert {word for words in re.findall(r'class="([^"]*)"', page) for word in words.split()} - {"oob", "tag"} <= classes


def test_a_page_states_its_light_and_may_state_another() -> None:
    style = drawing_style("night")
    assert style.startswith(":root{--paper:#15130f;")
    assert "[data-light=sun]{--paper:#fff;" in style
    assert "@import" not in style
    assert "url(" not in style


@pytest.mark.parametrize("light", ["dusk", "Day", " "])
def test_a_light_that_there_is_not_is_refused(light: str) -> None:
    for asked in (lambda: ask_drawing(light=light), lambda: drawing_style(light)):
        with pytest.raises(DataError, match="no light") as refused:
            asked()
        assert "day, night, sun, print" in str(refused.value)


def test_a_light_is_that_of_the_file() -> None:
    made = ruled_files(_POND, _MOOR, ("2023",))
    assert ".drawing .red{fill:none;stroke:#ff5b57;" in draw_ruling(made, rendering=ask_drawing(light="night"))
    assert ".drawing .red{fill:none;stroke:#c0161c;" in draw_ruling(made, rendering=ask_drawing())
    assert ".drawing .red{fill:none;stroke:#000;" in draw_ruling(made, is_paper=True, rendering=ask_drawing())
