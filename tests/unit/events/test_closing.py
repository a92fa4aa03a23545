"""What may still change after closing, by edition: Rule 34-1 of 2016, Rule 20.2e of 2019 and 2023 (all from memory)."""

from __future__ import annotations

import pytest

from marram.core.errors import EventError
from marram.core.terms import Form
from marram.events.decided.closing import AFTER_CLOSING, COMMITTEE_MISTAKE, still_open
from marram.interchange.books.book_files import read_book

GROUNDS = {
    ("2016", Form.STROKE_PLAY): {
        "agreed-to-ignore-a-rule",
        "handicap-known-to-be-too-high",
        "score-lower-than-taken",
        "knew-of-disqualification",
    },
    ("2016", Form.MATCH_PLAY): {"agreed-to-ignore-a-rule"},
    ("2019", Form.STABLEFORD): {
        "agreed-to-ignore-a-rule",
        "score-lower-than-taken",
        "knew-of-disqualification",
        "not-eligible",
        "serious-misconduct",
    },
    ("2023", Form.MATCH_PLAY): {"agreed-to-ignore-a-rule", "knew-of-disqualification", "not-eligible", "serious-misconduct"},
}


@pytest.mark.parametrize(("book", "form"), GROUNDS)
def test_a_player_is_disqualified_after_closing_for_what_the_edition_says_alone(book: str, form: Form) -> None:
    opened = read_book(book)
    for ground in AFTER_CLOSING[1:]:
        if ground in GROUNDS[book, form]:
            found = still_open(opened, form, ground, "medal")
            assert found.only_disqualifies and found.citations
        else:
            with pytest.raises(EventError, match=f"Under {book} nobody is disqualified after closing for '{ground}'") as refused:
                still_open(opened, form, ground, "medal")
            assert "A wrong ruling stands" in refused.value.hint


@pytest.mark.parametrize("book", ["2016", "2019", "2023"])
def test_a_mistake_of_the_committee_is_put_right_at_any_time(book: str) -> None:
    found = still_open(read_book(book), Form.STROKE_PLAY, COMMITTEE_MISTAKE, "medal")
    assert not found.only_disqualifies
    assert {citation.rule for citation in found.citations} == {"34-1; 34-3; 6-6d" if book == "2016" else "20.2d; 20.2e; 3.3b(3)"}


def test_an_edition_that_states_nothing_says_so() -> None:
    with pytest.raises(EventError, match="does not say what may change after closing"):
        still_open(read_book("draft-2017"), Form.STROKE_PLAY, COMMITTEE_MISTAKE, "medal")
    with pytest.raises(EventError, match="The event is closed"):
        still_open(read_book("2023"), Form.STROKE_PLAY, "", "medal")
