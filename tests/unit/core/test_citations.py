"""How far a value is to be trusted: the weakest of the places that it rests on decides, and only what was not seen is marked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from marram.core.citations import Citation, provenance_class, rules_once, rules_words, split_seen

SEEN = Citation(document="Rules", edition="new", rule="16.1b", seen="A printed book, page 3")


@pytest.mark.parametrize(
    ("seen", "known"),
    [
        ("A printed book, page 3", "seen"),
        ("memory", "memory"),
        ("inferred", "inferred"),
        ("common practice (as explained to players)", "common practice"),
        ("A printed book; penalty memory", "memory"),
        ("A printed book; inferred (carried on from 2019)", "inferred"),
        ("inferred; exception memory, unsure", "memory"),
        ("memory (the clause is believed the same: A printed book, page 3)", "memory"),
        ("A printed book on memorable greens", "seen"),
        ("A printed book; common practice", "common practice"),
    ],
)
def test_the_weakest_place_decides(seen: str, known: str) -> None:
    assert provenance_class(seen) == known


def test_a_semicolon_in_brackets_parts_nothing() -> None:
    assert split_seen("A (one; two); B") == ("A (one; two)", "B")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "Rule 16.1b"),
        ({"seen": "memory"}, "Rule 16.1b (from memory)"),
        ({"seen": "memory", "is_unsure": True}, "Rule 16.1b (from memory, unsure)"),
        ({"seen": "inferred"}, "Rule 16.1b (inferred)"),
        ({"is_elsewhere": True}, "Rule 16.1b (seen in a source of another edition)"),
        ({"seen": "memory", "is_draft": True}, "Rule 16.1b (from memory, no published text seen)"),
        ({"seen": "A printed book; penalty memory", "is_draft": True}, "Rule 16.1b (from memory)"),
        ({"is_number_inferred": True}, "Rule 16.1b (number inferred)"),
        ({"seen": "memory", "overlay": "A trial"}, "Rule 16.1b"),
        ({"rule": "Definition of Lost"}, "Definition of Lost"),
    ],
)
def test_only_what_was_not_seen_is_marked(changes: dict[str, object], words: str) -> None:
    assert replace(SEEN, **changes).words == words  # type: ignore[arg-type]


def test_a_rule_is_told_once() -> None:
    assert rules_words([SEEN, replace(SEEN, seen="Another book"), replace(SEEN, rule="14.3")]) == "Rule 16.1b; Rule 14.3"


@pytest.mark.parametrize(
    ("rules", "words"),
    [
        (["17.1d(3)", "17.1d(3), 19.2c"], "Rule 17.1d(3), 19.2c"),
        (["26-1a, 20-5", "20-5"], "Rule 26-1a, 20-5"),
        (["17.1d", "17.1d(3)"], "Rule 17.1d; Rule 17.1d(3)"),
        (["14.3, 14.6", "14.6, 14.3"], "Rule 14.3, 14.6; Rule 14.6, 14.3"),
    ],
)
def test_a_number_that_stands_in_another_reference_is_not_said_again(rules: list[str], words: str) -> None:
    assert rules_words(replace(SEEN, rule=rule) for rule in rules) == words


def test_a_marked_rule_stays_beside_the_same_rule_seen() -> None:
    assert rules_words([SEEN, replace(SEEN, rule="16.1b, 14.3", seen="memory")]) == "Rule 16.1b; Rule 16.1b, 14.3 (from memory)"


@pytest.mark.parametrize(
    ("rules", "told"),
    [
        ([("3.2, 20.1b", "memory"), ("3.2, 20.1b", "A book"), ("3.2a(4), 20.1b", "A book")], "Rule 3.2a(4), 20.1b (in part from memory)"),
        ([("6-7", "memory"), ("3", "memory")], "Rule 3, 6-7 (from memory)"),
        ([("6.1a", "A book"), ("Appendix G", "A book"), ("6.1", "A book")], "Rule 6.1a; Appendix G"),
        ([("3.2", "A book"), ("3.21", "A book")], "Rule 3.2, 3.21"),
        ([("3.3", "inferred"), ("3.3", "memory")], "Rule 3.3 (from memory)"),
        ([("3.3", "inferred"), ("3.3", "common practice")], "Rule 3.3 (inferred)"),
        ([("6.2b", "A book"), ("6.2a/1", "A book")], "Rule 6.2a/1, 6.2b"),
        ([("20.1b", "A book"), ("3.2", "A book"), ("11.2a Exception 2", "A book")], "Rule 3.2, 11.2a Exception 2, 20.1b"),
        ([("21.1", "A book"), ("4.1b", "memory"), ("5.3a", "A book")], "Rule 5.3a, 21.1; Rule 4.1b (from memory)"),
        ([("3.3b(2), L-1", "A book")], "Rule 3.3b(2), L-1"),
        ([("Appendix C, Appendix E", "A book"), ("Appendix C", "A book")], "Appendix C; Appendix E"),
        ([("Appendix I, ball drop zones", "A book")], "Appendix I, ball drop zones"),
    ],
)
def test_each_number_of_a_line_is_told_once(rules: list[tuple[str, str]], told: str) -> None:
    assert rules_once(replace(SEEN, rule=rule, seen=seen) for rule, seen in rules) == told


def test_an_inferred_number_says_so_beside_a_mark() -> None:
    assert rules_once([replace(SEEN, rule="21", is_number_inferred=True)]) == "Rule 21 (number inferred)"
    assert rules_once([replace(SEEN, rule="21", is_number_inferred=True, seen="memory")]) == "Rule 21 (number inferred; from memory)"
