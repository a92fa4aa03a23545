"""No word of a ruling's drawing is cut, covered or laid over another: 200 places on three courses, screen and paper."""

from __future__ import annotations

import pytest

from tests.support.drawn_places import drawing_of, drawn_places
from tests.support.drawn_words import covered, cut_off, overlaps, read_drawing


@pytest.mark.parametrize("is_paper", [False, True], ids=["screen", "paper"])
def test_every_word_and_badge_is_whole_and_clear(is_paper: bool) -> None:
    faults = []
    for place in drawn_places():
        drawn = read_drawing(drawing_of(place, is_paper=is_paper))
        assert len(drawn.words) > 10, "hardly any words read: the check would pass without looking at anything"
        faults += [f"{place.name}: {fault}" for check in (overlaps, cut_off, covered) for fault in check(drawn)]
    assert not faults, "\n".join(faults)
