"""Every sign of a drawing is named once: by words that stand on it, or in the legend."""

from __future__ import annotations

from collections import Counter

import pytest
from shapely.geometry import LineString, box

from marram.course.frame import Position
from marram.sheets.drawn.legend import Sign, draw_legend, further_signs, signs_of
from marram.sheets.scene.lettering import Lettering
from marram.sheets.scene.scene import Item, Label, LabelKind, Role, Scene, Spot, SpotKind, Window
from marram.sheets.scene.svg import View
from tests.support.drawn_places import drawing_of, drawn_places
from tests.support.drawn_words import read_drawing

MIDDLE = Position(x_m=0.0, y_m=0.0)
VIEW = View(window=Window(middle=MIDDLE, width_m=20.0, height_m=10.0), x=34.0, y=86.0, units_per_m=39.6, name="test")
NAMES = {"red": "red penalty area", "yellow": "yellow penalty area", "unmarked": "unmarked water"}
NEED_WORDS = frozenset(
    {"red", "yellow", "unmarked", "bound", "back", "barred", "arc", "toward", "flight", "relief", "second", "other", "third"}
    | {"fan", "estimate", "common", "foot", "st-ring", "chosen", "map-frame"}
)
"""Classes of signs that no word on the map explains."""


def signs(
    *items: Item, spots: tuple[Spot, ...] = (), named: tuple[str, ...] = (), books: dict[Role | SpotKind, str] | None = None
) -> list[Sign]:
    placed = tuple(Label(lines=(name,), kind=LabelKind.GROUND, anchor=MIDDLE) for name in named)
    return signs_of(Scene(items=items, spots=spots), VIEW, Lettering(placed=placed), NAMES, books=books or {})


def item(role: Role, title: str = "") -> Item:
    return Item(role=role, geometry=box(-3, -3, 3, 3), title=title)


@pytest.mark.parametrize("is_paper", [False, True], ids=["screen", "paper"])
def test_every_sign_that_a_map_shows_stands_in_its_legend_once(is_paper: bool) -> None:
    faults = []
    for place in drawn_places():
        drawn = read_drawing(drawing_of(place, is_paper=is_paper))
        explained = Counter(drawn.explained)
        for name in drawn.seen_classes & NEED_WORDS:
            if explained[name] != 1:
                faults.append(f"{place.name}: {name} is explained {explained[name]} times")
        faults += [f"{place.name}: {words!r} stands twice" for words, count in Counter(drawn.legend_words).items() if count > 1]
    assert not faults, "\n".join(faults)


def test_what_lies_outside_the_window_is_not_explained() -> None:
    far = Item(role=Role.RED_EDGE, geometry=LineString([(50, 0), (60, 0)]))
    assert signs(far, spots=(Spot(kind=SpotKind.HOLE, position=Position(x_m=50.0, y_m=0.0)),)) == []


def test_the_marks_of_the_stance_are_explained() -> None:
    assert [sign.words for sign in signs(item(Role.FOOT))] == ["feet in the stance taken"]


def test_letters_on_the_ground_are_explained_and_names_are_not_said_again() -> None:
    found = signs(item(Role.TEE), item(Role.REPAIR), item(Role.BUNKER), item(Role.FAIRWAY, "fairway"), named=("T", "bunker"))
    assert {sign.words for sign in found} == {"T: teeing area", "ground under repair", "fairway"}


def test_ground_is_called_by_its_own_noun_where_it_has_one() -> None:
    found = signs(item(Role.OBSTRUCTION, "path"), item(Role.OBSTRUCTION, "shed"), item(Role.OBSTRUCTION, "path"), named=("shed",))
    assert [sign.words for sign in found] == ["path"]


def test_edges_are_called_as_the_book_calls_them() -> None:
    assert [sign.words for sign in signs(item(Role.YELLOW_EDGE), item(Role.UNMARKED_EDGE))] == [
        "edge of yellow penalty area",
        "edge of unmarked water",
    ]


def test_each_style_of_edge_has_its_book_and_one_without_an_edge_is_said_to_have_none() -> None:
    books: dict[Role | SpotKind, str] = {Role.RELIEF: "2023", Role.OTHER_BOOK: "draft 2017", Role.THIRD_BOOK: "2016"}
    found = signs(item(Role.RELIEF), item(Role.THIRD_BOOK), books=books)
    assert [(sign.sign, sign.words) for sign in found] == [
        (Role.RELIEF, "2023"),
        (Role.THIRD_BOOK, "2016"),
        (None, "draft 2017: no edge of its own here"),
    ]


def test_where_no_book_has_an_edge_in_sight_none_is_spoken_of() -> None:
    assert signs(item(Role.FOOT), books={Role.RELIEF: "2023", Role.OTHER_BOOK: "2016"})[0].words == "feet in the stance taken"


def test_a_point_whose_word_stands_beside_it_needs_no_other() -> None:
    spots = (Spot(kind=SpotKind.BALL, position=MIDDLE), Spot(kind=SpotKind.STATION, position=MIDDLE))
    assert [sign.words for sign in signs(spots=spots)] == ["ball", "point measured from"]
    assert [sign.words for sign in signs(spots=spots, named=("ball",))] == ["point measured from"]


def test_what_the_map_had_no_room_for_is_said_beneath() -> None:
    body: list[str] = []
    end = draw_legend(body, [], ["hole, 500 m", "ball"], VIEW, 620.0, is_paper=False)
    assert "No room on the drawing for: hole, 500 m; ball." in "".join(body).replace("\u00a0", " ")
    assert end > 620.0
    assert draw_legend([], [], [], VIEW, 620.0, is_paper=False) == 620.0


def test_a_sign_may_mean_something_else_on_one_drawing() -> None:
    spots = (Spot(kind=SpotKind.CHOSEN, position=MIDDLE),)
    scene = Scene(items=(item(Role.RELIEF),), spots=spots)
    told: dict[Role | SpotKind, str] = {Role.RELIEF: "where a ball may be dropped", SpotKind.CHOSEN: "place with a fault"}
    assert [sign.words for sign in signs_of(scene, VIEW, Lettering(), NAMES, told=told)] == list(told.values())


def test_many_things_of_one_sign_are_told_by_their_kind() -> None:
    nouns = ("path", "shed", "clubhouse", "bench")
    few, many = (signs(*(item(Role.OBSTRUCTION, noun) for noun in nouns[:count])) for count in (3, 4))
    assert [sign.words for sign in few] == ["path, shed, clubhouse"]
    assert [sign.words for sign in many] == ["immovable obstruction"]


def test_small_drawings_add_what_the_map_has_not_and_say_no_ground_again() -> None:
    scene = Scene(items=(item(Role.RELIEF), item(Role.RELIEF_SECOND), item(Role.FAIRWAY, "fairway"), item(Role.RED_EDGE)))
    known = [Sign(sign=Role.RELIEF, words="2023")]
    assert [sign.sign for sign in further_signs(scene, VIEW, NAMES, known)] == [Role.RELIEF_SECOND, Role.RED_EDGE]
