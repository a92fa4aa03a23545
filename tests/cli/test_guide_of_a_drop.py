"""A trial of how a ball is dropped is shown at a real place, in the steps of a relief and in what stays forbidden.

Source: Rules of Golf 2023, 14.3b(2): from knee height; a ball dropped from another height is dropped in a wrong way.
"""

from __future__ import annotations

from marram.core.terms import Club, Hand
from marram.office.trials.make_guide import guide_trial
from marram.rulings import Player
from tests.support.tellings import ground
from tests.support.told_keys import base, one_change

_PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45, putter_in=35, club=Club.IRON)


def test_a_trial_of_the_drop_height_shows_a_relief_with_that_drop() -> None:
    trial = one_change("drop-height.height", "knee-as-when-standing", "shoulder")
    guide = guide_trial(ground(), base("2023"), trial, player=_PLAYER, each=1, procedures=())
    (page,) = guide.pages
    steps = " ".join(words for step in page.steps for words in step.words)
    assert "from shoulder height" in steps
    assert "knee" not in steps
    forbidden = [line.text for line in (*page.stays, *page.newly)]
    assert any("it is dropped straight down from shoulder height" in text for text in forbidden)
    assert guide.not_shown == ()
    assert guide.changes[0].procedures == ()  # it states no procedure anew
    assert guide.changes[0].sheets == (1,)


def test_a_change_that_no_relief_tells_is_told_in_words() -> None:
    trial = one_change("search.limit_min", 3, 5)
    guide = guide_trial(ground(), base("2023"), trial, player=_PLAYER, each=1, procedures=())
    assert guide.pages == ()
    assert guide.not_shown == ("Change 1. It is no part of how relief is measured, so there is nothing to draw.",)
    assert guide.changes[0].sheets == ()
