"""A plan with looks and its report, as a shell sees them."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from tests.support.running import Run
from tests.unit.evidence.test_planned_looks import lying

DRAFT = """title = "A trial"
dated = 2026-03-01
on = ["2023"]
status = "open"
from = 2026-04-01

[[change]]
key = "search.limit_min"
was = 3
now = 2
because = "Because."
expects = { outcome = "round_min", direction = "down", matters = 6 }
observes = ["round_min"]
"""


def table_of_days(pairs: int) -> str:
    rows = ["day,date,pair,rules"]
    for number in range(pairs):
        first = date(2026, 4, 4).toordinal() + 14 * number
        rows += [f"t{number},{date.fromordinal(first)},p{number},trial", f"o{number},{date.fromordinal(first + 7)},p{number},ordinary"]
    return "\n".join(rows) + "\n"


def table_of_values(differences: list[float]) -> str:
    rows = ["day,outcome,group,value"]
    for number, difference in enumerate(differences):
        rows += [f"t{number},round_min,g1,{240 + difference:.6f}", f"o{number},round_min,g1,240"]
    return "\n".join(rows) + "\n"


def test_a_plan_with_looks_is_frozen_and_its_report_tells_the_look(called: Run, tmp_path: Path) -> None:
    trial, plan, days, values = (tmp_path / name for name in ("trial.toml", "plan.json", "days.csv", "values.csv"))
    trial.write_text(DRAFT)
    words = ("--seed", "moor", "--sd", "round_min=5", "--looks")
    code, out, complaint = called("trial", "plan", str(trial), "--pairs", "24", *words, "3", "-o", str(plan))
    assert code == 0, complaint
    assert "Looks: 3; an effect must lie so many standard errors from nothing: after 8 pairs 3.47, after 16 pairs 2.45" in out
    assert "known at look 1 in" in out
    days.write_text(table_of_days(8))
    values.write_text(table_of_values(lying(-7, 3.6, 8)))
    records = ("--days", str(days), "--values", str(values), "--plan", str(plan))
    code, out, complaint = called("trial", "report", str(trial), *records, "--json")
    assert code == 0, complaint
    answer = json.loads(out)
    assert answer["interim"] is True
    assert answer["look"] == {"bound": 3.4711, "look": 1, "looks": 3, "pairs": 8, "planned_pairs": 24}
    finding = answer["findings"][0]
    assert finding["interim"] is True
    assert finding["look"]["passed"] is True
    assert finding["look"]["bound"] == 3.4711
    assert finding["look"]["standard_errors"] == pytest.approx(3.6, abs=0.01)
    assert finding["look"]["interval"][1] < 0
    code, _, complaint = called("trial", "plan", str(trial), "--pairs", "10", *words, "2")
    assert code == 4
    assert "first comes after 5" in complaint
