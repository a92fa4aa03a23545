"""Jobs on rule books, on opened books: keys, facts, sources, differences, the audit."""

from __future__ import annotations

from io import BytesIO

import pytest
from openpyxl import load_workbook

from marram.core.errors import RuleDataError
from marram.office.books.audit_rules import audit_rules
from marram.office.books.compare_two import compare_two, print_comparison
from marram.office.books.list_rules import list_facts, list_rules, list_sources
from marram.office.books.rule_workbook import rule_workbook
from marram.office.books.show_key import KeyShown, QuestionShown, show_key
from marram.office.workroom import Workroom

ROOM = Workroom()


def test_the_time_for_searching_is_shown_under_each_book() -> None:
    # Rules of Golf 2016, Definitions (Lost Ball): five minutes; Rules of Golf 2019, Rule 18.2a(1): three minutes.
    shown = show_key("search.limit_min", ROOM.books(["2016", "2019"]))
    assert isinstance(shown, KeyShown)
    assert [(book.name, side.value, side.words) for book, side in shown.under] == [("2016", 5, "5 min"), ("2019", 3, "3 min")]
    assert all(side.citations and not side.why_none for _, side in shown.under)


def test_a_key_that_a_book_does_not_have_is_shown_with_the_reason() -> None:
    # Rules of Golf 2016, Rule 25-2: as near as possible to the spot; Rules of Golf 2023, Rule 16.3b: one club-length.
    shown = show_key("relief.embedded-ball-general.size", ROOM.books(["2016", "2023"]))
    assert isinstance(shown, KeyShown)
    (_, before), (_, now) = shown.under
    assert (before.value, before.words) == (None, "")
    assert "as near as possible" in before.why_none
    assert (now.value, now.why_none) == ({"club_lengths": 1}, "")


def test_a_former_key_of_a_question_shows_how_each_book_asks() -> None:
    books = ROOM.books(["2016", "2023"])
    shown = show_key("questions.second_breach", books)
    assert isinstance(shown, QuestionShown)
    assert shown.fact == "second_breach"
    assert [book.name for book, _ in shown.under] == ["2016", "2023"]
    assert all(question.endswith("?") for _, question in shown.under)


def test_an_unknown_key_names_the_nearest() -> None:
    with pytest.raises(RuleDataError, match="search.limit_min"):
        show_key("search.limit", ROOM.books(["2023"]))


def test_keys_editions_and_local_rules_are_listed() -> None:
    listed = list_rules(ROOM.catalogue, ROOM.local_rules)
    assert {"2016", "2019", "2023"} <= {entry.name for entry in listed.editions}
    assert "preferred-lies" in {rule.name for rule in listed.local_rules}
    by_key = {entry.key: entry for entry in listed.keys}
    assert (by_key["search.limit_min"].unit, by_key["search.limit_min"].situation) == ("min", "search")
    assert {entry.situation for entry in listed.keys} <= set(listed.situations)


def test_facts_are_asked_in_the_terms_of_the_book() -> None:
    asked = {name: {fact.name: fact.question for fact in list_facts(ROOM.book(name)).facts} for name in ("2016", "2023")}
    assert asked["2016"].keys() == asked["2023"].keys() == ROOM.catalogue.facts.keys()
    assert asked["2016"] != asked["2023"]


def test_sources_speak_of_editions_that_there_are() -> None:
    known = set(ROOM.editions())
    sources = list_sources(ROOM.catalogue)
    assert sources
    assert all(set(source.editions) <= known for source in sources)


def test_each_key_that_differs_has_its_sentence_and_both_sides() -> None:
    found = compare_two((ROOM.book("2016"), ROOM.book("2019")))
    entry = next(each for each in found.keys if each.key == "search.limit_min")
    assert (entry.first.value, entry.second.value) == (5, 3)
    assert entry.key in entry.told.keys
    assert "5 min" in entry.told.sentence
    assert "3 min" in entry.told.sentence
    assert all((each.first.value, each.first.why_none) != (each.second.value, each.second.why_none) for each in found.keys)


def test_a_comparison_is_a_page_or_a_print() -> None:
    told = compare_two((ROOM.book("2019"), ROOM.book("2023"))).told
    page, paper = print_comparison(told, "html"), print_comparison(told, "pdf")
    assert isinstance(page, str)
    assert all(entry.keys for entry in told.told)
    assert "2019" in page
    assert isinstance(paper, bytes)
    assert paper.startswith(b"%PDF")


def test_the_audit_adds_up() -> None:
    found = audit_rules(ROOM.catalogue)
    for kind in found.kinds:
        assert found.totals.get(kind, 0) == sum(counts.get(kind, 0) for counts in found.counts.values())
    assert {edition for edition, _ in found.counts} == set(ROOM.editions())


def test_the_workbook_has_the_present_value_of_a_key_and_room_for_a_new_one() -> None:
    sheet = load_workbook(BytesIO(rule_workbook(ROOM.book("2023"))))["rules"]
    head, *rows = ([cell.value for cell in row] for row in sheet.iter_rows())
    row = dict(zip(head, next(row for row in rows if row[0] == "search.limit_min"), strict=True))
    assert str(row["present"]).startswith("3")
    assert row["now"] is None
