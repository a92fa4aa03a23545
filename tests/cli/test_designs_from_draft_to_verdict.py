"""Each design that draws units singly, from the draft to the verdict, with invented records brought back as tables."""

from __future__ import annotations

import json
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


def season(called: Run, folder: Path, name: str, built: Built, *more: str) -> list[str]:
    """The trial, its plan by a design, and the records of its days; gives the words of the report command."""
    trial, plan = folder / "trial.toml", folder / "plan.json"
    trial.write_text(TRIAL, encoding="utf-8")
    spread = ["--sd", "strokes=5", "--sd", "penalty_strokes=3"]
    code, _, err = called(
        "trial", "plan", str(trial), "--seed", "moor", "--design", name, *DESIGNS[name][0], *more, *spread, "-o", str(plan)
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
