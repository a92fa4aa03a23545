"""How far from the nearest right place a ball was played: measured, never called serious by the program."""

from __future__ import annotations

from dataclasses import replace

import pytest

from marram.core.terms import Club, Form, Hand
from marram.core.units import INCH_M
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulings import Incident, Player, PreviousStroke, rule_on
from marram.rulings.drop.wrong_place import acts_of_wrong_place, how_far_off
from tests.support.ground import course, pond

CLUB_M = 45 * INCH_M
BANK = Position(x_m=-15, y_m=-60)
IN_POND = Incident(
    hole=1,
    situation="penalty-area",
    form=Form.STROKE_PLAY,
    ball=Position(x_m=-10, y_m=-60),
    player=Player(hand=Hand.RIGHT, longest_club_in=45, putter_in=35, club=Club.IRON),
    crossed_at=BANK,
    previous_stroke=PreviousStroke(at=Position(x_m=30, y_m=-250), area=None),
)


def off(edition: str, x_m: float, y_m: float) -> dict[str, float]:
    played = replace(IN_POND, played_from=Position(x_m=x_m, y_m=y_m))
    ruling = rule_on(played, course(pond()), read_book(edition))
    return {entry.procedure: entry.distance_m for entry in how_far_off(ruling)}


@pytest.mark.parametrize(("edition", "roll_m"), [("2016", 2 * CLUB_M), ("2019", 0.0), ("2023", 0.0)])
def test_beyond_two_club_lengths_the_rest_of_the_way_is_told(edition: str, roll_m: float) -> None:
    """Straight back from the crossing point the lateral area ends two club-lengths away; in 2016 a ball may roll two more out of it."""
    toward_x, toward_y = -15 / 225**0.5, 0.0
    inside = BANK.x_m + toward_x * CLUB_M, BANK.y_m - 0.3
    assert off(edition, *inside)["penalty-area-lateral-red"] == 0
    far = BANK.x_m + toward_x * (2 * CLUB_M + roll_m + 5), BANK.y_m + toward_y
    assert off(edition, *far)["penalty-area-lateral-red"] == pytest.approx(5, abs=0.35)


def test_far_from_everything_the_distance_is_to_the_outline() -> None:
    found = off("2023", BANK.x_m - 2 * CLUB_M - 20, BANK.y_m - 1)
    assert found["penalty-area-lateral-red"] == pytest.approx(20, abs=0.3)
    assert list(found.values()) == sorted(found.values())


def test_stroke_and_distance_is_measured_to_where_the_previous_stroke_was_made() -> None:
    """The drop is within one club-length of that spot, which the place three metres behind it lies outside by the rest."""
    assert off("2023", 30, -253)["penalty-area-stroke-and-distance"] == pytest.approx(3 - CLUB_M, abs=0.02)


@pytest.mark.parametrize(("edition", "allowed_m"), [("2016", 2 * CLUB_M), ("draft-2017", 20 * INCH_M), ("2019", CLUB_M), ("2023", CLUB_M)])
def test_beside_the_line_each_edition_allows_its_own_width(edition: str, allowed_m: float) -> None:
    hole_to_bank = (BANK.x_m**2 + BANK.y_m**2) ** 0.5
    along = (BANK.x_m / hole_to_bank, BANK.y_m / hole_to_bank)
    far_back = 30.0
    on_line = BANK.x_m + along[0] * far_back, BANK.y_m + along[1] * far_back
    beside = on_line[0] - along[1] * 3, on_line[1] + along[0] * 3
    assert off(edition, *on_line)["penalty-area-back-on-line"] == 0
    assert off(edition, *beside)["penalty-area-back-on-line"] == pytest.approx(3 - allowed_m, abs=0.01)


def test_the_program_gives_both_penalties_and_calls_nothing_serious() -> None:
    """Source: Rules of Golf (January 2023), Rule 14.7."""
    minor, serious = acts_of_wrong_place(read_book("2023"))
    assert minor.case is not None
    assert serious.case is not None
    assert (minor.case.strokes, minor.case.ball) == (2, "played-out")
    assert (serious.case.strokes, serious.case.ball, serious.case.put_right) == (2, "corrected", "before-the-next-tee")
    ruling = rule_on(replace(IN_POND, played_from=BANK), course(pond()), read_book("2023"))
    assert not hasattr(how_far_off(ruling)[0], "is_serious")


@pytest.mark.parametrize(
    ("edition", "rolled_m", "off_m"),
    [
        ("2016", 2.28, 0.0),
        ("2016", 2.286 + 0.5, 0.5),
        ("2019", 2.28, 1.143 + 2.28 - 2.286),
        ("2023", 2.28, 1.143 + 2.28 - 2.286),
    ],
)
def test_a_dropped_ball_may_roll_two_club_lengths_from_where_it_first_struck(edition: str, rolled_m: float, off_m: float) -> None:
    """The ball first strikes one club-length of 45 in (1.143 m) beside the bank and rolls on, away from the hole.

    Rules of Golf (January 2016), Rule 20-2c(vi): dropped again where it comes to rest more than two club-lengths (2.286 m) from where it
    first struck; Rules of Golf (January 2019), Rule 14.3c(2): where it comes to rest outside the relief area, two club-lengths about the
    point on the bank.
    """
    touch = Position(x_m=BANK.x_m - CLUB_M, y_m=BANK.y_m)
    rest = Position(x_m=touch.x_m - rolled_m, y_m=touch.y_m)
    ruling = rule_on(replace(IN_POND, first_touch=touch, played_from=rest), course(pond()), read_book(edition))
    found = {entry.procedure: entry.distance_m for entry in how_far_off(ruling)}
    assert found["penalty-area-lateral-red"] == pytest.approx(off_m, abs=0.005)
