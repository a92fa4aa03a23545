"""Differences told in sentences: none lost, none twice, and each with what both books say."""

from __future__ import annotations

from collections import Counter
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marram.interchange.books.book_files import overlay_of, read_book
from marram.rulebook.book import open_book
from marram.rulebook.consequence_words import BallIs, HoleIs, PutRight
from marram.rulebook.consequences import Consequence
from marram.rulebook.differences.compare import compare_books
from marram.rulebook.differences.difference_words import case_words, cases_apart
from marram.rulebook.differences.differences import sentences_of, tell_differences
from marram.rulebook.reading.files import packaged_catalogue

EDITIONS = tuple(packaged_catalogue().editions)
LOCAL_RULES = ("preferred-lies", "young-trees", "stands-and-tents", "opposite-side-relief")


def told(first: str, second: str) -> dict[str, str]:
    return {key: entry.sentence for key, entry in sentences_of(tell_differences((read_book(first), read_book(second)))).items()}


@pytest.mark.parametrize(("first", "second"), list(permutations(EDITIONS, 2)))
def test_each_differing_key_is_told_in_exactly_one_sentence(first: str, second: str) -> None:
    books = read_book(first), read_book(second)
    counted = Counter(key for entry in tell_differences(books).told for key in entry.keys)
    assert set(counted) == {entry.key for entry in compare_books(*books)}
    assert set(counted.values()) == {1}


@settings(max_examples=12, deadline=None)
@given(st.sampled_from(EDITIONS), st.lists(st.sampled_from(LOCAL_RULES), unique=True, max_size=3))
def test_the_same_holds_with_local_rules_laid_on(edition: str, laid: list[str]) -> None:
    fitting = [name for name in laid if edition in overlay_of(name).on]
    books = read_book(edition), open_book(edition, [overlay_of(name) for name in fitting], packaged_catalogue())
    comparison = tell_differences(books)
    counted = Counter(key for entry in comparison.told for key in entry.keys)
    assert set(counted) == {entry.key for entry in compare_books(*books)}
    assert set(counted.values()) <= {1}
    reasons = {change.because.rstrip(".")[1:] for _, change in books[1].changed.values()}
    assert all(any(reason in entry.sentence for entry in comparison.told) for reason in reasons)


def test_a_book_does_not_differ_from_itself() -> None:
    assert tell_differences((read_book("2019"), read_book("2019"))).told == ()


def test_sizes_are_told_with_metres_and_both_rules() -> None:
    sentence = told("draft-2017", "2019")["relief.lateral.size"]
    assert "80 inches (2.03 m) (draft 14.3" in sentence
    assert "becomes two club-lengths (Rule 17.1d(3)" in sentence


def test_procedures_that_changed_alike_are_told_together() -> None:
    sentences = told("draft-2017", "2019")
    back = [f"relief.{name}.shape" for name in ("penalty-area-back-on-line", "unplayable-back-on-line")]
    assert sentences[back[0]] == sentences[back[1]]
    assert "penalty area back on line" in sentences[back[0]]
    assert "a strip along the line" in sentences[back[0]]


def test_a_procedure_that_is_newly_given_is_one_difference() -> None:
    found = sentences_of(tell_differences((read_book("draft-2017"), read_book("2019"))))
    entry = found["relief.stroke-and-distance-alternative.allowed"]
    assert "new in 2019" in entry.sentence
    assert "2 penalty strokes" in entry.sentence
    assert {key for key in found if key.startswith("relief.stroke-and-distance-alternative.")} <= set(entry.keys)


def test_silence_of_a_source_is_not_told_as_new() -> None:
    for entry in tell_differences((read_book("draft-2017"), read_book("2019"))).told:
        assert not (": not stated in the source" in entry.sentence and " new in " in entry.sentence)


def test_an_act_tells_only_what_differs() -> None:
    sentence = told("draft-2017", "2019")["act.double-hit.cases"]
    assert "one penalty stroke becomes no penalty" in sentence
    assert "the stroke counts" not in sentence


def test_memory_is_marked_in_the_sentence_and_counted() -> None:
    comparison = tell_differences((read_book("draft-2017"), read_book("2019")))
    marked = [entry for entry in comparison.told if "from memory" in entry.rests_on]
    assert marked
    assert all("from memory" in entry.sentence for entry in marked)
    assert f"{len(marked)} with a side from memory" in comparison.count_words


def test_cases_that_agree_are_left_out() -> None:
    same = Consequence(when=("measuring",))
    first = (same, Consequence(strokes=2, hole=HoleIs.LOST))
    second = (same, Consequence(when=("searching",)), Consequence(strokes=2, hole=HoleIs.LOST, put_right=PutRight.BEFORE_THE_CARD))
    apart = cases_apart(first, second, ("A", "B"))
    assert "measuring" not in apart.told
    assert apart.told == (
        "otherwise nothing to be put right becomes to be put right before the card; only in B, no penalty where searching"
    )


def test_a_case_is_read_with_its_facts() -> None:
    case = Consequence(when=("ball_on_green",), strokes=1, match_strokes=1, ball=BallIs.REPLACED)
    assert case_words(case) == "where ball on green, one penalty stroke, the ball is replaced"
