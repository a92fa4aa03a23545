"""What a thing is and whether it may be moved, by edition and area, against what the published Rules say.

Sources, by edition: Rules of Golf (January 2016), Definitions of Loose Impediments and Obstructions, Rules 13-4, 16-1, 23, 24; 2017 draft
explanation paper 19 and proposed-change summary (loose impediments in bunkers); Rules of Golf (January 2019 and 2023), Definitions and
Rules 8.1, 12.2a, 13.1c, 15.1, 15.2. The rows that they stand in name where each value was seen.
"""

from __future__ import annotations

import pytest

from marram.core.terms import Area
from marram.interchange.books.book_files import read_book
from marram.rulings.acts.objects import MayMove, ObjectAnswer, rule_on_object

EDITIONS = ("2016", "draft-2017", "2019", "2023")
YES, NO = MayMove.YES, MayMove.NO


def answer(edition: str, thing: str, area: Area = Area.GENERAL_AREA, **facts: bool) -> ObjectAnswer:
    return rule_on_object(read_book(edition), thing, area, facts)


@pytest.mark.parametrize(
    ("thing", "area", "may"),
    [
        ("stone", Area.GENERAL_AREA, (YES, YES, YES, YES)),
        ("stone", Area.BUNKER, (NO, YES, YES, YES)),
        ("leaf", Area.PENALTY_AREA, (NO, YES, YES, YES)),
        ("twig", Area.PUTTING_GREEN, (YES, YES, YES, YES)),
        ("rake", Area.BUNKER, (YES, YES, YES, YES)),
        ("stake-of-penalty-area", Area.PENALTY_AREA, (YES, YES, YES, YES)),
        ("sand", Area.PUTTING_GREEN, (YES, YES, YES, YES)),
        ("sand", Area.GENERAL_AREA, (NO, NO, NO, NO)),
        ("dew", Area.GENERAL_AREA, (NO, NO, NO, NO)),
        ("ball-mark", Area.PUTTING_GREEN, (YES, YES, YES, YES)),
        ("spike-mark", Area.PUTTING_GREEN, (NO, YES, YES, YES)),
        ("animal-track", Area.PUTTING_GREEN, (NO, YES, YES, YES)),
        ("aeration-hole", Area.PUTTING_GREEN, (NO, NO, NO, NO)),
        ("spike-mark", Area.GENERAL_AREA, (NO, NO, NO, NO)),
        ("boundary-stake", Area.GENERAL_AREA, (NO, NO, NO, NO)),
        ("sprinkler-head", Area.GENERAL_AREA, (NO, NO, NO, NO)),
        ("integral-thing", Area.GENERAL_AREA, (NO, NO, NO, NO)),
        ("dew", Area.TEEING_AREA, (YES, YES, YES, YES)),
        ("sand", Area.TEEING_AREA, (YES, YES, YES, YES)),
        ("ball-mark", Area.TEEING_AREA, (YES, YES, YES, YES)),
        ("tee-marker", Area.TEEING_AREA, (NO, NO, NO, NO)),
        ("tee-marker", Area.GENERAL_AREA, (YES, YES, YES, YES)),
        ("growing-plant", Area.GENERAL_AREA, (NO, NO, NO, NO)),
        ("growing-plant", Area.TEEING_AREA, (NO, NO, YES, YES)),
    ],
)
def test_whether_it_may_be_moved(thing: str, area: Area, may: tuple[MayMove, ...]) -> None:
    assert tuple(answer(edition, thing, area).may_be_moved for edition in EDITIONS) == may


@pytest.mark.parametrize(
    ("thing", "facts", "kind"),
    [
        ("stone", {}, "loose-impediment"),
        ("stone", {"solidly_embedded": True}, "part-of-course"),
        ("leaf", {"sticks_to_ball": True}, "part-of-course"),
        ("rake", {}, "movable-obstruction"),
        ("bench", {"declared_integral": True}, "integral-object"),
        ("gate", {}, "immovable-obstruction"),
        ("gate", {"moves_easily": True}, "movable-obstruction"),
        ("fence", {"defines_boundary": True}, "boundary-object"),
        ("boundary-support", {}, "immovable-obstruction"),
        ("mown-grass", {"piled_for_removal": True}, "ground-under-repair"),
        ("made-ice", {}, "movable-obstruction"),
        ("natural-ice", {}, "snow-or-ice"),
        ("spectator", {}, "outside-influence"),
    ],
)
def test_what_it_is(thing: str, facts: dict[str, bool], kind: str) -> None:
    """Rules of Golf (January 2023), Definitions; the same in the older editions but where a row says otherwise."""
    assert answer("2023", thing, Area.GENERAL_AREA, **facts).kind == kind


def test_a_spider_web_is_loose_though_it_hangs_on_something() -> None:
    """Decisions on the Rules of Golf, Decision 23/5.5; Rules of Golf (January 2019), Definition of Loose Impediment."""
    assert {answer(edition, "spider-web").kind for edition in EDITIONS} == {"loose-impediment"}
    assert {answer(edition, "spider-web", attached_or_growing=True).may_be_moved for edition in EDITIONS} == {YES}


def test_the_older_edition_keeps_its_terms() -> None:
    assert answer("2016", "spectator").term == "outside agency"
    assert answer("2016", "integral-thing").term == "integral part of the course"
    assert answer("2023", "spectator").term == "outside influence"


@pytest.mark.parametrize(
    ("edition", "thing", "area", "strokes"),
    [
        ("2016", "stone", Area.GENERAL_AREA, 1),
        ("2023", "stone", Area.GENERAL_AREA, 1),
        ("2016", "stone", Area.PUTTING_GREEN, 0),
        ("2016", "stone", Area.BUNKER, 2),
        ("2019", "stone", Area.BUNKER, 1),
        ("2016", "rake", Area.BUNKER, 0),
        ("2023", "rake", Area.GENERAL_AREA, 0),
    ],
)
def test_what_follows_where_the_ball_moves_with_it(edition: str, thing: str, area: Area, strokes: int) -> None:
    moved = answer(edition, thing, area).ball_moves
    assert moved is not None
    assert moved.case is not None
    assert (moved.case.strokes, moved.case.ball) == (strokes, "replaced")


@pytest.mark.parametrize(("edition", "strokes"), [("2016", 2), ("2019", 0), ("2023", 0)])
def test_a_boundary_stake_put_back_before_the_stroke(edition: str, strokes: int) -> None:
    """Worked example 31: Rules of Golf (January 2016), Rule 13-2; Rules of Golf (January 2019), Rule 8.1c."""
    back = answer(edition, "boundary-stake").put_back
    assert back is not None
    assert back.case is not None
    assert back.case.strokes == strokes


def test_snow_and_ice_leave_the_player_the_choice() -> None:
    """Rules of Golf (January 2016), Definition of Casual Water; Rules of Golf (January 2019), Definition of Loose Impediment."""
    for edition in EDITIONS:
        assert set(answer(edition, "snow").relief) == {"temporary-water", "loose-impediment"}


@pytest.mark.parametrize("edition", EDITIONS)
def test_no_free_relief_is_offered_in_a_penalty_area(edition: str) -> None:
    """Rules of Golf (January 2016), Rules 24-2 and 25-1; Rules of Golf (January 2019), Rule 16.1a(2), 19.1."""
    for thing in ("path", "puddle", "growing-plant"):
        relief = answer(edition, thing, Area.PENALTY_AREA).relief
        assert not {"immovable-obstruction", "temporary-water", "unplayable"} & set(relief), thing
    assert "penalty-area" in answer(edition, "path", Area.PENALTY_AREA).relief
    assert answer(edition, "path", Area.GENERAL_AREA).relief == ("immovable-obstruction",)


def test_a_leaf_in_a_bunker_is_free_for_a_ball_that_lies_elsewhere() -> None:
    """Rules of Golf (January 2016), Rule 23-1: only where both lie in or touch the same hazard."""
    assert answer("2016", "leaf", Area.BUNKER).may_be_moved is NO
    assert answer("2016", "leaf", Area.BUNKER, ball_elsewhere=True).may_be_moved is YES
