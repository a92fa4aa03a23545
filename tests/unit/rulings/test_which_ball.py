"""Which ball may be used is said as the relief has it: any, the original, or the original unless it cannot be recovered."""

from __future__ import annotations

from dataclasses import replace

import pytest

from marram.core.terms import Form, Hand
from marram.course.frame import Position
from marram.rulebook import open_book, packaged_catalogue
from marram.rulings import Incident, Player, rule_on
from tests.support.ground import course

BALL = Incident(
    hole=1,
    situation="moved-by-outside-influence",
    form=Form.STROKE_PLAY,
    ball=Position(x_m=0, y_m=-55),
    player=Player(hand=Hand.RIGHT, longest_club_in=45),
)


@pytest.mark.parametrize(
    ("situation", "is_another_told"),
    [
        ("moved-by-outside-influence", True),  # Rules of Golf (January 2016), 18-1, Note 2: another where it is not at once recoverable
        ("spot-not-known", False),  # 20-3c speaks of the ball that was lifted or moved, and of no other
    ],
)
def test_another_ball_is_told_only_where_the_relief_allows_one(situation: str, is_another_told: bool) -> None:
    ruling = rule_on(replace(BALL, situation=situation), course(), open_book("2016", [], packaged_catalogue()))
    told = [" ".join(option.steps) for option in ruling.options if option.put == "replace" or "spot" in option.procedure]
    assert told and all(("another only if" in text) is is_another_told for text in told), told
