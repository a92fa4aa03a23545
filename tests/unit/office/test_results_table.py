"""Results as a table: no cell is taken for a formula, and a result below zero stays a number."""

from __future__ import annotations

import csv
from io import StringIO

from marram.core.terms import Form
from marram.office.scoring.results_table import results_table, rules_behind
from marram.scoring.cards.card import Penalty
from tests.support.scored_cards import PAR, card, results


def test_a_table_of_places() -> None:
    late = [Penalty(act="late-start-within-5", ruling="R1")]
    cards = [card("=SUM(A1)", [par + 1 for par in PAR]), card("B", list(PAR), penalties=late), card("C", [None] * 18)]
    found = results("2019", Form.PAR_BOGEY, cards)
    rows = list(csv.DictReader(StringIO(results_table([found]))))
    assert [(row["place"], row["player"], row["score"], row["score_says"]) for row in rows] == [
        ("1", "B", "-1", "1 down"),
        ("2", "'=SUM(A1)", "-18", "18 down"),
        ("2", "C", "-18", "18 down"),
    ]
    assert rows[0]["penalties"] == "arrives ready after the starting time: 1 hole off the total (R1)"
    assert "Rule 5.3a" in rows[0]["rules"] and rules_behind(found)
