"""Where strokes fall; the order of stroke indexes is invented, the values are laid out by hand."""

import pytest

from marram.core.errors import HandicapError
from marram.handicaps.strokes_on_holes import places_in_order, strokes_by_hole, strokes_on_hole
from marram.rulebook.handicap_words import PlusGivesFrom

INDEXES = [9, 5, 17, 11, 1, 7, 15, 3, 13, 8, 16, 4, 14, 2, 10, 18, 6, 12]


@pytest.mark.parametrize(
    ("handicap", "strokes"),
    [
        (0, [0] * 18),
        (1, [0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
        (9, [1, 1, 0, 0, 1, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 0, 1, 0]),
        (18, [1] * 18),
        (22, [1, 1, 1, 1, 2, 1, 1, 2, 1, 1, 1, 2, 1, 2, 1, 1, 1, 1]),
        # Rules of Handicapping 2020 and 2024, Appendix C: plus 2 gives at indexes 18 and 17.
        (-2, [0, 0, -1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, -1, 0, 0]),
        (-18, [-1] * 18),
    ],
)
def test_strokes_of_a_round(handicap: int, strokes: list[int]) -> None:
    assert list(strokes_by_hole(handicap, INDEXES)) == strokes


def test_over_18_index_1_comes_again_as_19_37_and_55() -> None:
    # Rules of Handicapping 2024, Appendix E.
    assert [strokes_on_hole(handicap, 1) for handicap in (0, 1, 18, 19, 36, 37, 54, 55)] == [0, 1, 1, 2, 2, 3, 3, 4]


def test_a_plus_handicap_over_18_begins_again_at_the_last_index() -> None:
    assert [strokes_on_hole(-20, place) for place in (18, 17, 16, 1)] == [-2, -2, -1, -1]


def test_nine_holes_go_in_the_order_of_their_indexes() -> None:
    # Rules of Handicapping 2024, Appendix E: the nine indexes in ascending order are 1 3 5 7 9 11 13 15 17.
    front = INDEXES[:9]
    assert list(places_in_order(front)) == [5, 3, 9, 6, 1, 4, 8, 2, 7]
    assert list(strokes_by_hole(4, front)) == [0, 1, 0, 0, 1, 1, 0, 1, 0]
    assert list(strokes_by_hole(11, front)) == [1, 1, 1, 1, 2, 1, 1, 2, 1]
    assert list(strokes_by_hole(-1, front)) == [0, 0, -1, 0, 0, 0, 0, 0, 0]
    assert strokes_by_hole(4, [5, 3, 9, 6, 1, 4, 8, 2, 7]) == strokes_by_hole(4, front)


def test_a_plus_may_give_from_the_lowest_index_and_no_other_handicap_is_turned_round() -> None:
    lowest = PlusGivesFrom.LOWEST_INDEX
    assert [strokes_on_hole(-2, place, 18, lowest) for place in (1, 2, 3, 18)] == [-1, -1, 0, 0]
    assert strokes_by_hole(-20, INDEXES, lowest)[4] == -2 and strokes_by_hole(-20, INDEXES, lowest)[15] == -1
    assert strokes_by_hole(9, INDEXES, lowest) == strokes_by_hole(9, INDEXES)


@pytest.mark.parametrize(
    ("indexes", "said"),
    [
        ([1, 2, 2], "2 stands 2 times"),
        ([0, 1], "the value 0 at place 1"),
        ([19, 1, 1], "the value 19 at place 1 is none; 1 stands 2 times"),
        ([], "empty"),
    ],
)
def test_what_is_no_list_of_stroke_indexes_is_refused_with_every_fault(indexes: list[int], said: str) -> None:
    with pytest.raises(HandicapError, match=said):
        strokes_by_hole(10, indexes)


@pytest.mark.parametrize(("place", "holes"), [(0, 18), (19, 18), (10, 9)])
def test_there_is_no_place_outside_the_round(place: int, holes: int) -> None:
    with pytest.raises(HandicapError, match=f"1 to {holes}"):
        strokes_on_hole(5, place, holes)
