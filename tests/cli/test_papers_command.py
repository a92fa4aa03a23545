"""`marram trial papers`: the calendar is the plan's coin, without its seed."""

from __future__ import annotations

import json
from pathlib import Path

from tests.support.pdf_reading import words_of
from tests.support.running import marram

TRIAL = "examples/trials/four-changes.toml"
SPREAD = ("--sd", "search_s=9", "--sd", "relief_s=5", "--sd", "rulings=0.2", "--leave-out", "4")


def test_the_calendar_is_the_plans_and_holds_no_seed(tmp_path: Path) -> None:
    plan, out = str(tmp_path / "plan.json"), str(tmp_path / "papers.pdf")
    planned = json.loads(marram("trial", "plan", TRIAL, "--seed", "a-closed-seed", *SPREAD, "-o", plan, "--json").stdout)
    done = marram("trial", "papers", TRIAL, "--plan", plan, "-o", out, "--json")
    told = json.loads(done.stdout)
    assert told["schema"] == "marram.trial-papers/1"
    coin = [(pair["pair"], [pair["first_day"], pair["second_day"]]) for pair in planned["pairs"]]
    assert [(row["unit"], row["rules"]) for row in told["calendar"]] == coin
    words = words_of((tmp_path / "papers.pdf").read_bytes())
    assert all(pair in words for pair, _ in coin)
    assert "a-closed-seed" not in words + done.stdout
    assert planned["plan_stamp"] in words
    text = marram("trial", "papers", TRIAL, "-o", out).stdout
    assert "Calendar" not in text
    assert "Referee: Rulings asked for" in text


def test_another_ending_than_pdf_is_refused(tmp_path: Path) -> None:
    done = marram("trial", "papers", TRIAL, "-o", str(tmp_path / "papers.docx"))
    assert done.returncode == 2
    assert "End the name in .pdf" in done.stderr
    assert not (tmp_path / "papers.docx").exists()
