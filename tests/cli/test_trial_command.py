"""Exit codes and messages of the trial commands, as a shell sees them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.support.running import Run

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
WHOLE, PART = str(EXAMPLES / "trials" / "four-changes.toml"), str(EXAMPLES / "trials" / "fixed-lengths.toml")
RECORDS = ["--days", str(EXAMPLES / "season" / "days.csv"), "--values", str(EXAMPLES / "season" / "values.csv")]


@pytest.mark.parametrize(("trial", "code"), [(WHOLE, 0), (PART, 1)])
def test_faults_of_a_draft_show_in_the_exit_code(called: Run, trial: str, code: int) -> None:
    assert called("trial", "check", trial)[0] == code


@pytest.mark.parametrize(
    ("words", "code", "error"),
    [
        (("plan", WHOLE, "--seed", "x"), 4, "study"),
        (("report", WHOLE, "--days", RECORDS[3], "--values", RECORDS[1]), 2, "record"),
        (("show", RECORDS[1]), 2, "rule_data"),
    ],
)
def test_what_cannot_be_done_is_one_object_with_its_code(called: Run, words: tuple[str, ...], code: int, error: str) -> None:
    left_with, out, _ = called("trial", *words, "--json")
    assert left_with == code
    assert json.loads(out)["error"]["code"] == error


def test_a_pair_played_the_other_way_round_is_told(called: Run, tmp_path: Path) -> None:
    plan = tmp_path / "plan.json"
    spread = ["--sd", "search_s=9", "--sd", "relief_s=5", "--sd", "rulings=0.2", "--leave-out", "4"]
    assert called("trial", "plan", WHOLE, "--seed", "three-firths-2026", *spread, "-o", str(plan))[0] == 0
    days = tmp_path / "days.csv"
    rows = Path(RECORDS[1]).read_text(encoding="utf-8").replace("d01,2026-04-04", "d01,2026-04-19").splitlines()
    days.write_text("\n".join(rows) + "\n", encoding="utf-8")
    code, out, err = called("trial", "report", WHOLE, "--days", str(days), *RECORDS[2:], "--plan", str(plan), "--json")
    assert code == 0, err
    assert json.loads(out)["departures"] == ["Pair p01 was played the other way round than the coin fell."]
