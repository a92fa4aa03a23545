"""Stroke indexes that keep and break the published principles.

Source: Rules of Handicapping (2020 and 2024), Appendix E.
"""

from __future__ import annotations

import pytest
from shapely.geometry import LineString, box

from marram.core.terms import FeatureKind
from marram.course.check.stroke_index_faults import check_stroke_index
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Frame

KEEPS = (9, 3, 15, 7, 1, 13, 11, 17, 5, 10, 4, 16, 8, 2, 14, 12, 18, 6)


def course(indexes: tuple[int, ...]) -> Course:
    lines = tuple(
        Feature(
            id=f"line-{number}", kind=FeatureKind.LINE_OF_PLAY, geometry=LineString([(0, 0), (0, 9)]), holes=(number,), stroke_index=index
        )
        for number, index in enumerate(indexes, start=1)
    )
    boundary = Feature(id="boundary", kind=FeatureKind.BOUNDARY, geometry=box(-9, -9, 99, 99))
    return Course(name="c", frame=Frame(0, 0), sigma_m=None, features=(boundary, *lines))


def swapped(*pairs: tuple[int, int]) -> tuple[int, ...]:
    """The order that keeps everything, with the indexes of some holes exchanged."""
    indexes = list(KEEPS)
    for first, second in pairs:
        indexes[first - 1], indexes[second - 1] = indexes[second - 1], indexes[first - 1]
    return tuple(indexes)


def test_an_order_that_keeps_every_principle_has_no_faults() -> None:
    assert list(check_stroke_index(course(KEEPS))) == []


@pytest.mark.parametrize(
    ("indexes", "words", "holes"),
    [
        (swapped((1, 10)), "Odd indexes belong on one nine", None),
        (swapped((5, 3)), "Index 1 is on hole 3", (3,)),
        (swapped((14, 18)), "Index 2 is on hole 18", (18,)),
        (swapped((2, 4)), "Index 3 is on hole 4", (4,)),
        (swapped((11, 13)), "Index 4 is on hole 13", (13,)),
        (swapped((9, 6)), "Holes 5 and 6 run together", (5, 6)),
        (swapped((1, 6), (2, 8)), "Holes 1 to 3 hold none of the indexes up to 12", (1, 2, 3)),
        (swapped((17, 11)), "Holes 17 and 18 run together with indexes 4 and 6", (17, 18)),
    ],
)
def test_each_principle_is_checked(indexes: tuple[int, ...], words: str, holes: tuple[int, ...] | None) -> None:
    found = [fault for fault in check_stroke_index(course(indexes)) if words in fault.message]
    assert len(found) == 1, [fault.message for fault in check_stroke_index(course(indexes))]
    assert holes is None or found[0].holes == holes
    assert not found[0].stops_rulings
    assert "Appendix E" in found[0].message


def test_three_holes_without_a_stroke_for_a_player_of_twelve_are_told() -> None:
    """Holes 16 to 18 get 16, 18 and 14; the threshold is our own, and the message says so."""
    found = [fault for fault in check_stroke_index(course(swapped((16, 12), (18, 15)))) if "spread evenly" in fault.message]
    assert [fault.holes for fault in found] == [(16, 17, 18)]
    assert "own choice" in found[0].message


def test_nine_holes_are_not_held_to_the_order_of_eighteen() -> None:
    assert list(check_stroke_index(course((1, 3, 5, 7, 9, 11, 13, 15, 17)))) == []


def test_the_nines_may_be_exchanged() -> None:
    assert list(check_stroke_index(course((*KEEPS[9:], *KEEPS[:9])))) == []


def test_an_index_out_of_range_is_told() -> None:
    found = list(check_stroke_index(course((30, *KEEPS[1:]))))
    assert any("outside 1 to 18" in fault.message for fault in found)
