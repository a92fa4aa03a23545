"""What stays forbidden follows from the rows of the procedure and of dropping."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.rulings.case.case import Case
from marram.showing.forbidden import Carried, Forbidden, forbidden_by
from tests.support.ruled_files import ruled_files

_ROOT = Path(__file__).parents[3]
_COURSE = _ROOT / "examples" / "courses" / "thimble-moor.geojson"


def _lines(incident: str, procedure: str, book_name: str) -> dict[str, Forbidden]:
    given = ruled_files(_ROOT / "examples" / "incidents" / f"{incident}.toml", _COURSE, [book_name])
    (one,) = given.given
    option = next(option for option in one.ruling.options if option.procedure == procedure)
    carried = Carried(case=Case(incident=given.incident, course=given.course, book=one.book), option=option)
    return {line.about: line for line in forbidden_by(carried, one.ruling)}


def test_lateral_relief_keeps_its_limits() -> None:
    lines = _lines("pond-7", "penalty-area-lateral-red", "2023")
    assert {"nearer", "beyond", "back_in", "not_by_hand", "first_touch_out", "rest_out"} <= set(lines)
    assert "33.84 m" in lines["nearer"].text
    assert "two club-lengths" in lines["beyond"].text
    assert "red penalty area" in lines["back_in"].text


@pytest.mark.parametrize(
    ("book", "words"),
    [("2016", "shoulder height"), ("draft-2017", "set down by hand"), ("2019", "knee height"), ("2023", "knee height")],
)
def test_the_way_of_dropping_is_the_editions_own(book: str, words: str) -> None:
    assert words in _lines("pond-7", "penalty-area-lateral-red", book)["not_by_hand"].text


def test_only_an_edition_that_counts_drops_says_how_many() -> None:
    assert "after two drops" in _lines("pond-7", "penalty-area-lateral-red", "2023")["rest_out"].text
    assert "two" not in _lines("pond-7", "penalty-area-lateral-red", "draft-2017")["rest_out"].text


def test_a_touch_of_a_person_first_counts_in_the_draft() -> None:
    assert "touched_first" not in _lines("pond-7", "penalty-area-lateral-red", "draft-2017")
    assert "touched_first" in _lines("pond-7", "penalty-area-lateral-red", "2019")


def test_what_is_not_available_is_told_with_its_rule() -> None:
    line = _lines("pond-7", "penalty-area-lateral-red", "2023")["penalty-area-opposite-side"]
    assert line.citations
    assert "not available" in line.text


def test_every_line_has_a_rule() -> None:
    for book in ("2016", "draft-2017", "2019", "2023"):
        for line in _lines("sprinkler-9-right", "immovable-obstruction-general-area", book).values():
            assert line.citations, line


def test_how_far_a_dropped_ball_may_roll_is_told_where_the_edition_limits_it() -> None:
    """Rules of Golf (January 2016), Rule 20-2c(vi): two club-lengths from where it first struck, 2 × 45 in = 2.286 m."""
    told = _lines("pond-7", "penalty-area-lateral-red", "2016")["rest_out"].text
    assert "two club-lengths (2.29 m) from where it first struck" in told
    assert "club-length" not in _lines("pond-7", "penalty-area-lateral-red", "2023")["rest_out"].text


@pytest.mark.parametrize(
    ("book", "about", "is_partner_told"),
    [
        ("2016", "by_another", False),
        ("draft-2017", "by_another", False),
        ("2019", "by_another", True),
        ("2019+another-person-drops", "by_another_but_authorised", True),
        ("2023", "by_another_but_authorised", True),
    ],
)
def test_who_may_not_drop_is_told(book: str, about: str, is_partner_told: bool) -> None:
    """Rules of Golf (January 2016), Rule 20-2a: the player; Rules of Golf (January 2023), Rules 14.3b(1), 22.2, 23.5 and 25: a partner as
    well, and a person whom a player with a disability has authorised, which took a local rule in 2019."""
    lines = _lines("pond-7", "penalty-area-lateral-red", book)
    assert {name for name in lines if name.startswith("by_another")} == {about}
    assert lines[about].text.startswith("Nobody but the player")
    assert ("partner" in lines[about].text) is is_partner_told
    assert ("disability" in lines[about].text) is about.endswith("authorised")
