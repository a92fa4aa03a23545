"""Every command that a report prints is run again, and gives the number that stands beside it."""

from __future__ import annotations

import json
import random
import re
from pathlib import Path

import pytest

from tests.support.running import ROOT, marram

TRIAL, SEASON = "examples/trials/four-changes.toml", "examples/season"
TABLES = ("--days", f"{SEASON}/days.csv", "--values", f"{SEASON}/values.csv", "--asked", f"{SEASON}/asked.csv")
REPORT = ("trial", "report", TRIAL, *TABLES, "--json")


def copied(folder: Path) -> Path:
    """The example trial and its season beside each other, as the names in the printed command have them."""
    for path in (ROOT / TRIAL, *(ROOT / SEASON).glob("*.csv")):
        (folder / path.name).write_bytes(path.read_bytes())
    return folder


def test_each_printed_command_gives_the_number_beside_it(tmp_path: Path) -> None:
    folder = copied(tmp_path)
    page = tmp_path / "report.html"
    told = json.loads(marram(*REPORT, "-o", str(page)).stdout)["findings"]
    assert len(told) == 4
    assert set(re.findall(r"<code>(.*?)</code>", page.read_text(encoding="utf-8"))) == {finding["command"] for finding in told}
    for finding in told:
        words = finding["command"].split()
        assert words[0] == "marram"
        again = json.loads(marram(*words[1:], "--json", cwd=folder).stdout)["findings"][finding["change"] - 1]
        assert again == finding


@pytest.mark.parametrize("rules", ["trial", "ordinary"])
@pytest.mark.parametrize(("share", "seed"), [(0.3, 7), (0.3, 8), (0.3, 9), (0.92, 7)])
def test_rows_taken_out_on_one_side_leave_too_little_to_judge(tmp_path: Path, rules: str, share: float, seed: int) -> None:
    folder = copied(tmp_path)
    days = [line.split(",") for line in (folder / "days.csv").read_text(encoding="utf-8").splitlines()]
    side = {row[0] for row in days[1:] if row[3] == rules}
    head, *rows = (folder / "values.csv").read_text(encoding="utf-8").splitlines()
    chance = random.Random(seed)
    kept = [row for row in rows if row.split(",")[0] not in side or chance.random() > share]
    (folder / "values.csv").write_text("\n".join([head, *kept]) + "\n", encoding="utf-8")
    done = marram("trial", "report", "four-changes.toml", "--days", "days.csv", "--values", "values.csv", "--json", cwd=folder)
    told = json.loads(done.stdout)["findings"]
    assert {finding["verdict"] for finding in told} == {"too little to judge"}
    assert all(f"of the values of {rules} days are missing" in finding["reason"] for finding in told[:2])


def test_every_row_of_the_season_is_accounted_for() -> None:
    told = json.loads(marram(*REPORT).stdout)
    lines = (ROOT / SEASON / "values.csv").read_text(encoding="utf-8").splitlines()
    assert sum(row["read"] for row in told["rows"]) == len(lines) - 1
    assert all(row["read"] == row["weighed"] + sum(left["rows"] for left in row["left_out"]) for row in told["rows"])
    first = told["findings"][0]
    assert first["by_definition"]["estimate"] == pytest.approx(-10.49, abs=0.01)
    assert first["estimate"] == pytest.approx(first["by_definition"]["estimate"] + first["by_definition"]["restricted_estimate"], abs=0.001)


def test_no_key_stands_in_the_text_of_a_report() -> None:
    """Neither the name of an outcome nor a key of the rule data is a word that an official speaks."""
    content = json.loads(marram(*REPORT).stdout)
    keys = {finding["key"] for finding in content["findings"]} | {row["outcome"] for row in content["rows"] if "_" in row["outcome"]}
    text = marram(*REPORT[:-1]).stdout
    assert [key for key in keys if key in text] == []
    assert "any-above" not in text


def test_sensitivity_is_told_beside_and_changes_no_word(tmp_path: Path) -> None:
    folder, plain = copied(tmp_path), json.loads(marram(*REPORT).stdout)["findings"]
    beside = json.loads(marram(*REPORT, "--sensitivity").stdout)["findings"]
    for before, after in zip(plain, beside, strict=True):
        assert before["sensitivity"] == []
        assert {line["way"] for line in after["sensitivity"]} >= {"rows", "without one pair"}
        words = after["command"].split()
        assert words[-1] == "--sensitivity"
        assert json.loads(marram(*words[1:], "--json", cwd=folder).stdout)["findings"][after["change"] - 1] == after
        told = [sentence for sentence in after["says"] if sentence.startswith("Sensitivity, not the verdict.")]
        assert told
        alike = before.keys() - {"sensitivity", "says", "command"}
        assert {name: after[name] for name in alike} == {name: before[name] for name in alike}
        assert [sentence for sentence in after["says"] if sentence not in told] == before["says"]
    page = folder / "report.html"
    marram(*REPORT[:-1], "--sensitivity", "-o", str(page))
    assert page.read_text(encoding="utf-8").count("Sensitivity, not the verdict.") >= 4


def test_what_is_to_be_known_besides_is_no_departure_from_the_plan(tmp_path: Path) -> None:
    page = tmp_path / "report.html"
    marram(*REPORT[:-1], "-o", str(page))
    told = page.read_text(encoding="utf-8")
    assert "did not go as planned" not in told
    besides = told.partition("What is to be known besides")[2].partition("</ul>")[0]
    assert "said of every change how fair it is" in besides
    assert "lies far out" in besides
