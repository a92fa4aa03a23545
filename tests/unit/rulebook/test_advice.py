"""Advice decides nothing: it names no cost, which only cases, penalties and limits may state, and the acts that it points to are there."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from marram.rulebook.reading.files import packaged_catalogue

CATALOGUE = packaged_catalogue()
_FROM_A_KEY = re.compile(r"(?:\bcosts? )?\{[^}]*\}")
"""What is filled in from the rule data may be told: an overlay changes it, and logic reads it."""
_PLACE = re.compile(r"\bpenalty area", re.IGNORECASE)
_COST = re.compile(
    r"penalt|disqualif|\bcosts?\b|(?<!gives no )\bfree\b|\bwaive|\b(?:loses?|lost|loss of|forfeits?) (?:of )?(?:the |that |a )?hole\b"
    r"|(?<!made )\b(?:one|two|three|four|\d+|more|fewer|no|extra) strokes?\b|\badds\b[^.;]*\bstroke",
    re.IGNORECASE,
)
_POINTS_TO = re.compile(r"(?:: |\bor )([a-z]+(?:-[a-z]+)+)(?=[.,;])")


def cost_named(advice: str) -> str:
    """The first word of an advice that names a cost; empty where none does."""
    found = _COST.search(_PLACE.sub("", _FROM_A_KEY.sub("", advice)))
    return found.group() if found else ""


def advices() -> Iterator[tuple[str, str, str]]:
    """Every advice of the rule data, with its row and edition."""
    for row in CATALOGUE.rows.values():
        for edition, cell in row.editions.items():
            if isinstance(text := cell.values.get("advice"), str) and "advice" not in cell.defaulted:
                yield row.id, edition, text


def test_no_advice_names_a_cost() -> None:
    told = list(advices())
    assert len(told) > 300
    assert [(row, edition, cost_named(text), text) for row, edition, text in told if cost_named(text)] == []


@pytest.mark.parametrize(
    "text",
    [
        "Lifting it costs the same.",
        "The general penalty is added.",
        "It is free.",
        "There is no free relief from it.",
        "The player is disqualified.",
        "Disqualification follows.",
        "The player loses the hole.",
        "Loss of hole in a match.",
        "Two strokes are added.",
        "It adds no stroke.",
        "Fewer strokes than before.",
        "A stroke is taken off; it adds a stroke.",
        "The Committee may waive it.",
        "{own.term}: one stroke.",
    ],
)
def test_a_cost_in_words_is_found(text: str) -> None:
    assert cost_named(text)


@pytest.mark.parametrize(
    "text",
    [
        "Relief outside costs {relief.penalty-area-back-on-line.penalty_strokes}.",
        "In a penalty area it may be played as it lies.",
        "The hole is played out.",
        "In time is before a stroke from the next tee.",
        "The ball is in play under stroke and distance.",
        "It gives no free relief.",  # no cost: which reliefs are open stands in the row, and what an unplayable ball costs in its own
    ],
)
def test_what_is_no_cost_or_comes_from_a_key_may_stand(text: str) -> None:
    assert cost_named(text) == ""


def test_an_act_that_an_advice_points_to_is_there_in_the_same_edition() -> None:
    pointed = [(row, edition, f"act.{name}") for row, edition, text in advices() for name in _POINTS_TO.findall(text)]
    assert pointed
    assert [
        (row, edition, act) for row, edition, act in pointed if act not in CATALOGUE.rows or CATALOGUE.rows[act].editions[edition].absent
    ] == []
