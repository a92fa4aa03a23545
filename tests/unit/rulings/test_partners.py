"""What a breach of one partner costs the other in four-ball and foursomes.

Source: Rules of Golf 2016, Rules 30-3, 31-5 to 31-8; Rules of Golf (January 2023), Rule 23.9, printed page 197; 22.2.
"""

from __future__ import annotations

import pytest

from marram.core.terms import Form
from marram.interchange.books.book_files import read_book
from marram.rulings.acts.act_in_form import FormReading, read_in_form
from marram.rulings.acts.acts import rule_on_act


def reading(
    edition: str, act: str, form: Form = Form.FOUR_BALL, played: Form = Form.STROKE_PLAY, facts: dict[str, bool] | None = None
) -> FormReading:
    book = read_book(edition)
    case = rule_on_act(book, act, facts or {}).case
    assert case is not None
    found = read_in_form(book, form, act, case, played)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("edition", "act", "played", "partner"),
    [
        ("2016", "two-caddies", Form.STROKE_PLAY, "same"),
        ("2019", "two-caddies", Form.STROKE_PLAY, "if-it-helped"),
        ("2019", "adds-club", Form.MATCH_PLAY, "same"),
        ("2023", "wrong-ball", Form.MATCH_PLAY, "none"),
        ("2023", "bunker-test-sand", Form.STROKE_PLAY, "if-it-helped"),
        ("2016", "bunker-test-sand", Form.MATCH_PLAY, "if-it-helped-or-hurt"),
        ("2023", "double-hit", Form.STROKE_PLAY, ""),
        ("2023", "opponent-moves-not-search", Form.MATCH_PLAY, ""),
    ],
)
def test_what_the_partner_bears(edition: str, act: str, played: Form, partner: str) -> None:
    assert reading(edition, act, played=played).partner == partner


@pytest.mark.parametrize(
    ("edition", "act", "facts", "partner", "is_out", "hole"),
    [
        ("2023", "agree-to-waive-rules", {"they_knew_the_rule": True}, "side-is-out", True, ""),
        ("2016", "non-conforming-club-stroke", {}, "side-is-out", True, ""),
        ("2023", "late-start-over-5", {}, "side-is-out-if-both", True, ""),
        ("2023", "wrong-place-serious", {"not_put_right_in_time": True}, "no-score-for-hole", False, "no-score"),
    ],
)
def test_whom_a_disqualification_strikes(
    edition: str,
    act: str,
    facts: dict[str, bool],
    partner: str,
    is_out: bool,
    hole: str,  # noqa: FBT001
) -> None:
    found = reading(edition, act, facts=facts)
    assert (found.partner, found.is_out, found.hole) == (partner, is_out, hole)


def test_a_lost_hole_is_only_the_players_in_four_ball() -> None:
    says = reading("2023", "bunker-test-sand", played=Form.MATCH_PLAY).says
    assert "no score for the hole" in says
    assert "the partner plays on" in says
    assert "no score for the hole" not in reading("2023", "bunker-test-sand").says


def test_the_side_bears_everything_in_foursomes_and_nobody_else_plays_alone() -> None:
    assert reading("2023", "bunker-test-sand", Form.FOURSOMES).partner == "side"
    assert reading("2023", "bunker-test-sand", Form.STABLEFORD).partner == ""
