"""How stroke indexes are spread; recommendations of Appendix E of the Rules of Handicapping, broken one at a time."""

from fractions import Fraction

import pytest

from marram.core.errors import HandicapError
from marram.handicaps.stroke_index_check import check_stroke_indexes, difficulty

SOUND = [9, 5, 17, 11, 1, 7, 15, 3, 13, 8, 16, 4, 14, 2, 10, 18, 6, 12]


def swapped(*holes: tuple[int, int]) -> list[int]:
    indexes = list(SOUND)
    for one, other in holes:
        indexes[one - 1], indexes[other - 1] = indexes[other - 1], indexes[one - 1]
    return indexes


def broken(indexes: list[int], difficulties: list[Fraction] | None = None) -> set[str]:
    return {check.id for check in check_stroke_indexes(indexes, difficulties or []) if not check.holds}


@pytest.mark.parametrize(
    ("indexes", "fails"),
    [
        (SOUND, set()),
        ([*SOUND[9:], *SOUND[:9]], {"B1", "B6"}),  # even in front and odd behind is sound; 8 comes to hole 1 and 3 to hole 17
        (swapped((1, 10)), {"A2", "B1"}),  # 8 on hole 1 among odd ones
        (swapped((5, 3)), {"A3", "A5", "B4"}),  # 1 on hole 3, after 9 and 5
        (swapped((8, 4)), {"A4", "A5", "B4"}),  # 3 on hole 4, before 1 and 7
        (swapped((1, 6)), {"B1"}),  # 7 on hole 1
        (swapped((1, 8)), {"A5", "B1", "B6"}),  # 3 on hole 1, before 5
        (swapped((2, 8)), {"B6"}),  # 3 on hole 2
        (swapped((1, 9), (1, 7)), {"B4"}),  # 3, 9 and 8 on holes 8, 9 and 10
        (swapped((13, 17)), {"A5", "B4"}),  # 6 on hole 13, between 4 and 2
        (swapped((12, 18)), {"A5", "B1", "B6"}),  # 4 on hole 18, after 6
        (swapped((11, 15)), {"B4"}),  # 8, 10 and 4 on holes 10, 11 and 12
        (swapped((14, 8)), {"A2", "B7"}),  # 1 and 2 on one nine
    ],
)
def test_each_recommendation_is_looked_at(indexes: list[int], fails: set[str]) -> None:
    assert broken(indexes) == fails


def test_a_number_that_stands_twice() -> None:
    assert "A1" in broken([1, *SOUND[1:]])


def test_the_hole_beside_the_middle_may_be_lowest_where_the_middle_is_easy() -> None:
    on_seven = swapped((5, 7))  # 1 on hole 7; the middle three of the front nine are the easiest
    hard = [Fraction(place) for place in (10, 11, 12, 1, 2, 3, 13, 14, 15, 4, 5, 6, 16, 17, 18, 7, 8, 9)]
    assert "A3" in broken(on_seven) and "A3" not in broken(on_seven, hard)
    on_nine = swapped((5, 9))
    assert "A3" in broken(on_nine, hard)


def test_how_hard_a_hole_is() -> None:
    # Rules of Handicapping 2020, Appendix E: 4.2 + 5.3 - 2 x 4
    assert difficulty(4, Fraction("4.2"), Fraction("5.3")) == Fraction("1.5")


def test_only_a_round_of_18_is_looked_at() -> None:
    with pytest.raises(HandicapError, match="9 stroke indexes"):
        check_stroke_indexes(SOUND[:9])
