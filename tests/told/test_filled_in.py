"""What is told is filled in: no placeholder reaches anybody, and what a row says of itself is told of that row."""

from __future__ import annotations

import pytest

from marram.rulings.case.case import Case
from marram.rulings.case.procedure import Procedure
from tests.support.tellings import ground, incidents, tellers
from tests.support.told_keys import EDITIONS, base, changed_book

_LOST_OUTSIDE = "played-from-penalty-area-lost-outside"


@pytest.mark.parametrize("edition", EDITIONS)
def test_no_placeholder_is_left(edition: str) -> None:
    left = {
        name: [line for line in tell(base(edition)) if "{" in line or "}" in line]
        for name, tell in tellers().items()
        if not name.startswith(("drop", "ruling"))
    }
    assert not any(left.values()), left


@pytest.mark.parametrize("edition", EDITIONS)
def test_no_placeholder_is_left_in_a_ruling_or_a_drop(edition: str) -> None:
    names = ("drop", "ruling red penalty area", "ruling lost 23", "ruling unplayable 21")
    said = [line for name in names for line in tellers()[name](base(edition))]
    assert said
    assert not [line for line in said if "{" in line or "}" in line]


def test_what_a_row_says_of_itself_is_told_of_that_row_and_not_of_the_one_that_it_follows() -> None:
    # Rules of Golf 2023, 17.2b: relief outside the penalty area after a stroke from inside costs two strokes in all.
    for strokes, words in ((2.0, "In all two penalty strokes"), (3.0, "In all three penalty strokes")):
        key = f"relief.{_LOST_OUTSIDE}.penalty_strokes"
        book = base("2023") if strokes == 2.0 else changed_book("2023", key, 3)
        case = Case(incident=incidents()["ruling red penalty area"], course=ground(), book=book)
        followed = Procedure(case=case, id=_LOST_OUTSIDE).follows(case, "penalty-area-lateral-red")
        assert followed.advice()[0].startswith(words)
