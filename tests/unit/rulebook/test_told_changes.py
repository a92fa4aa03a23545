"""What a trial changes, and what two editions say differently, is told with both texts, both rules and the reason."""

from __future__ import annotations

from marram.interchange.books.book_files import read_book
from marram.rulebook import open_book, packaged_catalogue, read_overlay
from marram.rulebook.book import Book
from marram.rulebook.consequence_words import HoleIs
from marram.rulebook.consequences import Consequence
from marram.rulebook.differences.difference_words import cases_apart
from marram.rulebook.differences.differences import ToldDifference, sentences_of, tell_differences

CATALOGUE = packaged_catalogue()
FREE, COSTS = Consequence(when=("measuring",)), Consequence(when=("conceding",), strokes=1)
LAST = Consequence(strokes=2, hole=HoleIs.LOST)


def tried(now: str) -> Book:
    text = f'title = "Tried"\ndated = 2026-01-01\n[[change]]\nkey = "search.limit_min"\nwas = 3\nnow = {now}\nbecause = "To try it."\n'
    return open_book("2023", [read_overlay(text, name="tried", catalogue=CATALOGUE)], CATALOGUE)


def told(first: str, second: str, key: str) -> ToldDifference:
    return sentences_of(tell_differences((read_book(first), read_book(second))))[key]


def test_a_trial_is_cited_beside_the_rule_of_its_row() -> None:
    """Rule 18.2a(1) of 2023 gives three minutes; the trial's first change stands beside it, and beside no other row."""
    assert [citation.rule.partition(",")[0] for citation in tried("2").citations("search")] == ["18.2a(1)", "change 1 to 18.2a(1)"]
    assert [citation.overlay for citation in tried("2").citations("search")] == [None, "Tried"]
    assert not [citation for citation in tried("2").citations("drop-height") if citation.overlay]


def test_a_changed_number_is_told_with_both_texts_both_rules_and_the_reason() -> None:
    base, book = read_book("2023"), tried("2")
    comparison = tell_differences((base, book))
    (entry,) = comparison.told
    assert (entry.group, entry.what) == ("Searching for a ball", "longest search")
    assert (entry.first, entry.second) == ("3 minutes", "2 minutes; because: to try it")
    assert entry.first_rules.startswith("Rule 18.2a(1)") and entry.second_rules.startswith("change 1 to 18.2a(1)")
    assert entry.rests_on == ()
    assert comparison.stamps == (base.stamp, book.stamp)
    assert comparison.count_words == "1 difference."


def test_a_value_that_a_trial_takes_away_is_told_with_the_trial_s_name() -> None:
    (entry,) = tell_differences((read_book("2023"), tried("{ absent = true }"))).told
    assert (entry.first, entry.second) == ("longest search: 3 minutes", "taken away by tried; because: to try it")


def test_rows_that_changed_alike_stand_under_a_heading_of_their_own() -> None:
    """Rules of Golf 2016, Rules 26-1b and 28b; Rules of Golf 2019, Rules 17.1d(2) and 19.2b."""
    entry = told("2016", "2019", "relief.unplayable-back-on-line.shape")
    assert len(entry.keys) > 1
    assert entry.group == "Relief in several situations"
    assert "Rule 28b" in entry.first_rules and "Rule 28b" not in entry.second_rules
    assert "Rule 19.2b" in entry.second_rules and "Rule 19.2b" not in entry.first_rules


def test_what_an_act_leads_to_is_told_without_another_name_and_any_other_part_with_it() -> None:
    """Modified Rules of Golf 2019, 3.3; Model Local Rule E-5 of 2019."""
    act = told("2016", "2019", "act.disability-more-than-one-aide.cases")
    assert act.second.startswith("two penalty strokes for each hole in stroke play and loss of hole, for each such hole in match play")
    relief = told("2016", "2019", "relief.stroke-and-distance-alternative.penalty_strokes")
    assert "; 2 penalty strokes; what is measured from: the estimated spot;" in relief.sentence


def test_a_form_of_play_is_told_in_the_words_of_forms() -> None:
    """Rules of Golf 2016, Rule 10-1c: an opponent may recall the stroke; Rules of Golf 2019, Rule 6.4a: unless agreed to save time."""
    entry = told("2016", "2019", "form.match-play.out_of_turn")
    assert entry.first == "playing out of turn: no penalty, but the opponent may cancel the stroke"
    assert entry.second.startswith("playing out of turn: no penalty, but the opponent may cancel the stroke, unless it was agreed on")


def test_cases_in_another_order_are_told_as_that() -> None:
    apart = cases_apart((FREE, COSTS, LAST), (COSTS, FREE, LAST), ("A", "B"))
    assert (apart.first, apart.second) == ("its cases in one order", "the same in another order")
    assert apart.told == "its cases are asked in another order"


def test_a_case_that_only_one_book_has_is_told_for_that_book() -> None:
    first, second = cases_apart((FREE, LAST), (LAST,), ("A", "B")), cases_apart((LAST,), (FREE, LAST), ("A", "B"))
    assert (first.told, second.told) == ("only in A, no penalty where measuring", "only in B, no penalty where measuring")
    assert (first.first, first.second) == ("only in A, no penalty where measuring", "no such case")
    assert (second.first, second.second) == ("no such case", "only in B, no penalty where measuring")
