"""A plan whose spread is taken from an earlier season, as a shell sees it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_looks_of_a_plan import DRAFT
from tests.support.running import Run

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SEASON = ("--past-days", str(EXAMPLES / "season" / "days.csv"), "--past-values", str(EXAMPLES / "season" / "values.csv"))
FOUR = str(EXAMPLES / "trials" / "four-changes.toml")


def drafted(folder: Path) -> str:
    (folder / "trial.toml").write_text(DRAFT)
    return str(folder / "trial.toml")


def past(folder: Path, days: str, values: str) -> tuple[str, ...]:
    (folder / "days.csv").write_text(days)
    (folder / "values.csv").write_text(values)
    return ("--past-days", str(folder / "days.csv"), "--past-values", str(folder / "values.csv"))


def ordinary_days(values: list[float]) -> tuple[str, str]:
    days = ["day,date,course", *(f"d{place},2025-05-{place + 1:02d},Moor" for place in range(len(values)))]
    rows = ["day,outcome,group,value", *(f"d{place},round_min,g1,{value}" for place, value in enumerate(values))]
    return "\n".join(days) + "\n", "\n".join(rows) + "\n"


def test_the_demo_season_tells_the_spread_and_the_plan_is_made_at_it_and_at_its_limit(called: Run) -> None:
    code, out, complaint = called("trial", "plan", FOUR, "--seed", "x", "--pairs", "20", *SEASON, "--leave-out", "4", "--json")
    assert code == 0, complaint
    answer = json.loads(out)
    told = {entry["outcome"]: entry for entry in answer["past"]}
    search = told["search_s"]
    assert search["taken_from"] == "pairs of days"
    assert search["sd_upper_limit"] > search["sd_of_difference"] > 0
    assert 0 <= search["correlation"] <= search["correlation_upper_limit"] <= 1
    first = answer["changes"][0]
    assert first["sd_of_difference"] == pytest.approx(search["sd_of_difference"], abs=1e-4)
    limit = first["at_upper_limit"]
    assert limit["sd_of_difference"] == pytest.approx(search["sd_upper_limit"], abs=1e-4)
    assert limit["least_effect"] / first["least_effect"] == pytest.approx(search["sd_upper_limit"] / search["sd_of_difference"], rel=1e-3)
    assert limit["pairs_needed"] >= first["pairs_needed"]
    assert limit["pairs_to_plan"] == limit["pairs_needed"]
    lossy = json.loads(
        called("trial", "plan", FOUR, "--seed", "x", "--pairs", "20", *SEASON, "--leave-out", "4", "--lost", "0.2", "--json")[1]
    )
    planned = lossy["changes"][0]["at_upper_limit"]
    assert planned["pairs_to_plan"] == -(-planned["pairs_needed"] * 10 // 8)
    assert limit["outlook"][1]["did"] <= first["outlook"][1]["did"] + 0.05
    assert answer["changes"][2]["outlook_lacks"] == []


def test_ordinary_days_without_pairs_or_rules_serve(called: Run, tmp_path: Path) -> None:
    """Differences 4, -3, 1, -2, 5, -5 of days that follow each other: their squares sum to 80, sd 4; at most 4 sqrt(5 / 2.343) = 5.843."""
    season = past(tmp_path, *ordinary_days([240, 244, 241, 238, 240, 241, 242, 240, 236, 241, 245, 240]))
    code, out, complaint = called("trial", "plan", drafted(tmp_path), "--seed", "x", "--pairs", "12", *season)
    assert code == 0, complaint
    told = " ".join(out.split())
    assert "Times of a round: two days differ by a standard deviation of 4 min, at most 5.84; 5 degrees of freedom, from days of" in told
    assert "Where days differ as much as 5.84" in told


def test_what_was_told_stands_before_what_the_past_shows(called: Run, tmp_path: Path) -> None:
    season = past(tmp_path, *ordinary_days([240, 244, 241, 238, 240, 241]))
    words = ("--seed", "x", "--pairs", "12", *season, "--sd", "round_min=5", "--json")
    code, out, complaint = called("trial", "plan", drafted(tmp_path), *words)
    assert code == 0, complaint
    change = json.loads(out)["changes"][0]
    assert change["sd_of_difference"] == 5
    assert "at_upper_limit" not in change


@pytest.mark.parametrize(
    ("days", "values", "told"),
    [
        (*ordinary_days([240, 244]), "show how far no outcome of the trial spreads"),
        (*ordinary_days([240, 240, 240, 240]), "show how far no outcome of the trial spreads"),
        ("day,date\nd0,yesterday\n", "day,outcome,value\nd0,round_min,240\n", "yesterday"),
    ],
)
def test_a_season_that_tells_nothing_is_refused(called: Run, tmp_path: Path, days: str, values: str, told: str) -> None:
    code, out, complaint = called("trial", "plan", drafted(tmp_path), "--seed", "x", *past(tmp_path, days, values))
    assert code in {2, 4}
    assert told in complaint
    assert out == ""


def test_both_tables_or_none(called: Run, tmp_path: Path) -> None:
    code, _, complaint = called("trial", "plan", drafted(tmp_path), "--seed", "x", *SEASON[:2])
    assert code == 2
    assert "--past-days and --past-values go together" in complaint


def test_how_days_differ_is_not_what_other_designs_rest_on(called: Run) -> None:
    words = ("--design", "groups-within-a-day", "--seed", "x", *SEASON)
    code, _, complaint = called("trial", "plan", FOUR, *words)
    assert code == 4
    assert "how much two days differ" in complaint


def test_the_plan_tells_how_many_answers_and_counted_rounds_it_needs(called: Run) -> None:
    code, out, complaint = called("trial", "plan", FOUR, "--seed", "x", "--pairs", "20", *SEASON, "--leave-out", "4", "--json")
    assert code == 0, complaint
    rows = {(entry["change"], entry["outcome"]): entry for entry in json.loads(out)["rows_needed"]}
    fair, asked = rows[1, "fair"], rows[1, "asked_step"]
    assert not fair["is_rate"]
    assert not fair["is_assumed"]
    assert asked["is_assumed"]
    # no season told of the questions: 75 players a day, 0.05 alike: 1 + 74 x 0.05 = 4.7
    assert asked["design_effect"] == pytest.approx(4.7)
    assert asked["each_with_days"] == -(-asked["each"] * 47 // 10)
    assert asked["planned"] == 1500
    rulings = rows[3, "rulings"]
    assert rulings["is_rate"]
    assert rulings["wanted"] < 1
    assert rulings["each_with_days"] >= rulings["each"]
    assert 0 <= rows[3, "penalty_strokes"]["equal_shown"] <= 1
    said = " ".join(called("trial", "plan", FOUR, "--seed", "x", "--pairs", "20", *SEASON, "--leave-out", "4")[1].split())
    assert "Change 1, answers on fairness: to find 2.00 times the odds of a better one takes" in said
