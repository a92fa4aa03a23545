"""Each design that draws units singly, from the draft to the verdict, with invented records brought back as tables."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from marram.office.workroom import Workroom
from marram.records.rows import TrialRecords
from tests.support.drawn_seasons import Built, as_tables, days_of_units, rows_of_units
from tests.support.running import Run

TRIAL = """
title = "A shorter search"
dated = 2026-03-01
on = ["2023"]
[[change]]
key = "search.limit_min"
was = 3
now = 2
because = "Rounds take too long."
aim = "Fewer strokes in the rough."
expects = { outcome = "strokes", direction = "down", matters = 3 }
guards = [{ outcome = "penalty_strokes", margin = 2.0 }]
observes = ["strokes", "penalty_strokes"]
"""
DESIGNS = {
    "cross-over": (["--days", "3", "--groups", "16"], "cross-over of two rounds, groups drawn", "group", 48),
    "cross-over-by-half": (["--days", "24"], "cross-over of two rounds, halves of the field drawn", "day of half of the field", 24),
    "groups-within-a-day": (["--days", "4", "--groups", "24"], "groups drawn inside one day", "group", 96),
}


def season(called: Run, folder: Path, name: str, built: Built, *options: str, more: str = "") -> list[str]:
    """The trial, its plan by a design, and the records of its days; gives the words of the report command."""
    trial, plan = folder / "trial.toml", folder / "plan.json"
    trial.write_text(TRIAL + more, encoding="utf-8")
    spread = ["--sd", "strokes=5", "--sd", "penalty_strokes=3"]
    code, _, err = called(
        "trial", "plan", str(trial), "--seed", "moor", "--design", name, *DESIGNS[name][0], *options, *spread, "-o", str(plan)
    )
    assert code == 0, err
    drawn, chance = Workroom().plan(plan).drawn, Random(7)
    rows = rows_of_units(drawn, "strokes", built, chance)
    rows += rows_of_units(drawn, "penalty_strokes", Built(level=8, sd_day=0.5, sd_group=0.5, sd_row=1), chance, of=round)
    days, values = as_tables(TrialRecords(days=days_of_units(drawn), observations=tuple(rows)))
    (folder / "days.csv").write_text(days, encoding="utf-8")
    (folder / "values.csv").write_text(values, encoding="utf-8")
    return ["trial", "report", str(trial), "--days", str(folder / "days.csv"), "--values", str(folder / "values.csv"), "--plan", str(plan)]


@pytest.mark.parametrize("name", DESIGNS)
def test_an_effect_that_is_there_is_found_and_the_page_says_what_was_drawn(called: Run, tmp_path: Path, name: str) -> None:
    words = season(called, tmp_path, name, Built(trial=-6.0, second_round=4.0))
    code, out, err = called(*words, "--json")
    assert code == 0, err
    answer = json.loads(out)
    _, design, unit, units = DESIGNS[name]
    (finding,) = answer["findings"]
    assert (answer["design"], answer["randomised_unit"], finding["randomised_units"]) == (design, unit, units)
    assert (finding["overall"], finding["guards"][0]["word"]) == ("did what it was meant to", "kept")
    assert finding["interval95"][0] < -6 < finding["interval95"][1]
    assert finding["estimate"] == pytest.approx(finding["trial_mean"] - finding["ordinary_mean"], abs=2e-4)
    assert (answer["departures"], answer["left_out"]) == ([], [])
    _, text, _ = called(*words)
    told = " ".join(text.split())
    assert "under trial rules" in told
    assert "Design: " in told
    assert "days under" not in told
    page = tmp_path / "report.html"
    assert called(*words, "-o", str(page))[0] == 0
    assert "Groups are weighed" in page.read_text(encoding="utf-8") or "Days are weighed" in page.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", DESIGNS)
def test_without_the_plan_the_tables_show_what_was_drawn(called: Run, tmp_path: Path, name: str) -> None:
    words = season(called, tmp_path, name, Built(trial=-6.0, second_round=4.0))
    with_plan, without = (json.loads(called(*given, "--json")[1]) for given in (words, words[:-2]))
    assert without["design"] == with_plan["design"]
    assert without["findings"][0]["estimate"] == with_plan["findings"][0]["estimate"]
    assert without["findings"][0]["verdict"] == with_plan["findings"][0]["verdict"]


def test_rows_against_the_plan_are_queried_and_told_by_row_and_column(called: Run, tmp_path: Path) -> None:
    words = season(called, tmp_path, "groups-within-a-day", Built(trial=-6.0))
    values = tmp_path / "values.csv"
    lines = values.read_text(encoding="utf-8").splitlines()
    turned = {"trial": "ordinary", "ordinary": "trial"}
    of_g01 = [number for number, line in enumerate(lines) if line.startswith("d01,") and ",g01," in line]
    for number in of_g01:
        cells = lines[number].split(",")
        cells[6] = turned[cells[6]]
        lines[number] = ",".join(cells)
    values.write_text("\n".join(lines) + "\n", encoding="utf-8")
    answer = json.loads(called(*words, "--json")[1])
    assert len(answer["left_out"]) == len(of_g01) == 6
    assert answer["left_out"][0]["where"] == f"values.csv, row {of_g01[0] + 1}"
    assert "column arm: d01 g01 was drawn for" in answer["left_out"][0]["reason"]
    assert answer["departures"] == ["d01 g01 was played otherwise than it was drawn."]
    assert answer["findings"][0]["randomised_units"] == 95
    lines = [f"{line},{'checked' if number == 0 else 'yes'}" for number, line in enumerate(lines)]
    values.write_text("\n".join(lines) + "\n", encoding="utf-8")
    checked = json.loads(called(*words, "--json")[1])
    assert checked["findings"][0]["randomised_units"] == 96
    assert not checked["left_out"]


def test_the_second_wave_counts_where_a_full_round_was_left_free_before_it(called: Run, tmp_path: Path) -> None:
    words = season(called, tmp_path, "groups-within-a-day", Built(trial=-6.0), "--waves", "2")
    days = tmp_path / "days.csv"
    (first_alone,) = json.loads(called(*words, "--json")[1])["findings"]
    assert (first_alone["randomised_units"], first_alone["verdict"][:7]) == (96, "too lit")  # the plan has twice as many: interim
    assert "interim: 96 of 192 groups" in first_alone["reason"]
    days.write_text(days.read_text(encoding="utf-8").replace("Moor,", "Moor,yes"), encoding="utf-8")
    assert json.loads(called(*words, "--json")[1])["findings"][0]["randomised_units"] == 192


@pytest.mark.parametrize("name", ["cross-over", "groups-within-a-day"])
@pytest.mark.parametrize("place", ["expects", "guards"])
def test_pace_is_refused_where_groups_under_both_sets_of_rules_share_a_course(called: Run, tmp_path: Path, name: str, place: str) -> None:
    """At the plan, and at the report of records that somebody brings all the same."""
    words = season(called, tmp_path, name, Built(trial=-6.0))
    trial = tmp_path / "trial.toml"
    key = {"expects": "strokes", "guards": "penalty_strokes"}[place]
    trial.write_text(
        TRIAL.replace(f'{{ outcome = "{key}"', '{ outcome = "round_min"').replace('observes = ["', 'observes = ["round_min", "')
    )
    _, out, _ = called("trial", "plan", str(trial), "--seed", "moor", "--design", name, "--sd", "strokes=5", "--json")
    assert "each group waits for the group ahead" in out
    values = tmp_path / "values.csv"
    rows = values.read_text(encoding="utf-8").splitlines()
    pace = {",".join([*row.split(",")[:1], "round_min", "240", row.split(",")[3], "", *row.split(",")[5:]]) for row in rows[1:]}
    values.write_text("\n".join([*rows, *sorted(pace)]) + "\n", encoding="utf-8")
    _, out, err = called(*words[:-2], "--json")
    assert not err
    (finding,) = json.loads(out)["findings"]
    if place == "expects":
        assert (finding["verdict"], finding["estimate"]) == ("too little to judge", None)
        assert "paired days of the whole field, would judge it" in finding["reason"]
    else:
        (guard,) = finding["guards"]
        assert (guard["word"], guard["interval90"], finding["overall"]) == ("not shown that it is kept", None, "mixed")
        assert "each waits for the group ahead" in guard["reason"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda cells: [*cells[:6], "both", cells[7]], "row 2, column arm: 'both'; expected one of trial, ordinary"),
        (lambda cells: [*cells[:5], "3", *cells[6:]], "row 2, column round: 3 cannot be; expected 1 to 2"),
        (lambda cells: [*cells[:5], "first", *cells[6:]], "row 2, column round: 'first' is no number"),
        (lambda cells: [*cells[:3], "", cells[4], cells[5], "", cells[7]], "row 2, column arm: is empty and names no group"),
        (lambda cells: [*cells[:6], {"trial": "ordinary", "ordinary": "trial"}[cells[6]], cells[7]], "has both sets of rules at once"),
    ],
)
def test_a_row_that_cannot_be_is_told_by_row_and_column(
    called: Run, tmp_path: Path, change: Callable[[list[str]], list[str]], words: str
) -> None:
    given = season(called, tmp_path, "cross-over", Built())
    values = tmp_path / "values.csv"
    lines = values.read_text(encoding="utf-8").splitlines()
    values.write_text("\n".join([lines[0], ",".join(change(lines[1].split(","))), *lines[2:]]) + "\n", encoding="utf-8")
    code, out, _ = called(*given, "--json")
    assert code == 2
    assert words in json.loads(out)["error"]["message"]


def test_rows_without_a_round_are_queried_and_too_many_of_them_leave_too_little(called: Run, tmp_path: Path) -> None:
    given = season(called, tmp_path, "cross-over", Built(trial=-6.0))
    values = tmp_path / "values.csv"
    rows = [line.split(",") for line in values.read_text(encoding="utf-8").splitlines()]
    first_rounds = [number for number, cells in enumerate(rows) if cells[1] == "strokes" and cells[5] == "1"]
    assert len(first_rounds) == 144
    for number in first_rounds[:36]:
        rows[number][5] = ""
    values.write_text("\n".join(map(",".join, rows)) + "\n", encoding="utf-8")
    answer = json.loads(called(*given, "--json")[1])
    assert {row["reason"] for row in answer["left_out"]} == {"column round: it says no round, and which came first is what is weighed"}
    assert len(answer["left_out"]) == 36
    # the first 12 of 48 groups, with 3 players each, have their second round alone
    assert answer["findings"][0]["reason"] == "25% of the 48 groups have no values"
    assert sum(row["weighed"] for row in answer["rows"] if row["outcome"] == "strokes") == 252


def test_two_rounds_of_a_group_of_which_no_row_says_which_are_told(called: Run, tmp_path: Path) -> None:
    given = season(called, tmp_path, "cross-over", Built(trial=-6.0))
    values = tmp_path / "values.csv"
    values.write_text(values.read_text(encoding="utf-8").replace(",1,", ",,").replace(",2,", ",,"), encoding="utf-8")
    code, out, _ = called(*given, "--json")
    assert code == 2
    assert "one of them is a slip, or says no round" in json.loads(out)["error"]["message"]


def test_an_outcome_under_one_set_of_rules_alone_is_held_against_nothing(called: Run, tmp_path: Path) -> None:
    given = season(called, tmp_path, "groups-within-a-day", Built(trial=-6.0))
    values = tmp_path / "values.csv"
    rows = [line for line in values.read_text(encoding="utf-8").splitlines() if ",strokes," not in line or ",ordinary," not in line]
    values.write_text("\n".join(rows) + "\n", encoding="utf-8")
    (finding,) = json.loads(called(*given, "--json")[1])["findings"]
    assert (finding["verdict"], finding["estimate"]) == ("too little to judge", None)
    assert finding["reason"].startswith("it was recorded under trial rules alone")


def test_days_of_another_trial_than_the_plan_are_refused(called: Run, tmp_path: Path) -> None:
    given = season(called, tmp_path, "cross-over", Built())
    days, values = tmp_path / "days.csv", tmp_path / "values.csv"
    values.write_text("day,outcome,value,player\nd01,strokes,80,a\nd02,strokes,80,a\n", encoding="utf-8")
    days.write_text("day,date,rules,pair\nd01,2026-04-04,trial,p1\nd02,2026-04-11,ordinary,p1\n", encoding="utf-8")
    code, out, _ = called(*given, "--json")
    assert code == 4
    assert "of day d01 the table of days says one set of rules" in json.loads(out)["error"]["message"]


def test_a_plan_that_was_altered_is_refused(called: Run, tmp_path: Path) -> None:
    given = season(called, tmp_path, "groups-within-a-day", Built())
    plan = Path(given[-1])
    plan.write_text(plan.read_text(encoding="utf-8").replace('"ordinary"', '"trial"', 1), encoding="utf-8")
    assert "altered after it was frozen" in called(*given, "--json")[1]


def test_other_ways_of_reckoning_are_for_paired_days_alone_and_that_is_told(called: Run, tmp_path: Path) -> None:
    given = season(called, tmp_path, "cross-over", Built())
    assert "for paired days alone" in json.loads(called(*given, "--sensitivity", "--json")[1])["remarks"][-1]


def test_a_change_that_the_plan_sends_to_a_station_has_no_word_from_the_days(called: Run, tmp_path: Path) -> None:
    second = """
[[change]]
key = "overhanging-ball-wait.wait_s"
was = 10
now = 20
because = "Too short."
expects = { outcome = "penalty_strokes", direction = "down", matters = 1 }
observes = ["penalty_strokes"]
"""
    given = season(called, tmp_path, "groups-within-a-day", Built(trial=-6.0), "--leave-out", "2", more=second)
    findings = json.loads(called(*given, "--json")[1])["findings"]
    assert findings[0]["overall"] == "did what it was meant to"
    assert findings[1]["verdict"] == "too little to judge"
    assert "station" in findings[1]["reason"]
