"""The same places in a real browser, whose own type gives the boxes: nothing cut, covered or laid over another."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.browser_boxes import read_in_browser
from tests.support.drawn_places import drawing_of, few_places
from tests.support.drawn_words import covered, cut_off, overlaps

PLACES = 20


@pytest.mark.browser
@pytest.mark.parametrize("is_paper", [False, True], ids=["screen", "paper"])
def test_every_word_is_whole_and_clear_as_chromium_sets_it(is_paper: bool, tmp_path: Path) -> None:
    places = few_places(PLACES)
    read = read_in_browser([drawing_of(place, is_paper=is_paper) for place in places], tmp_path)
    assert sum(len(drawn.words) for drawn in read) > 10 * PLACES
    faults = []
    for place, drawn in zip(places, read, strict=True):
        faults += [f"{place.name}: {fault}" for check in (overlaps, cut_off, covered) for fault in check(drawn)]
    assert not faults, "\n".join(faults)
