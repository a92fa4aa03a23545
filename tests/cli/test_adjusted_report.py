"""Weather and field fixed in the plan: from the draft to a report that adjusts for exactly those."""

from __future__ import annotations

import json
from pathlib import Path
from random import Random

import pytest

from tests.support.running import Done, marram

TRIAL = """
title = "Trial of a larger relief area"
dated = 2026-03-01
on = ["2023"]
status = "closed"
from = 2026-04-01
until = 2026-09-30
[[change]]
key = "relief.lateral.size"
was = { club_lengths = 2 }
now = { club_lengths = 4 }
because = "Fewer balls come to rest where nobody can stand."
aim = "Quicker relief."
expects = { outcome = "relief_s", direction = "down", matters = 8 }
observes = ["relief_s"]
"""
PLAN = ("trial", "plan", "trial.toml", "--seed", "a seed that nobody guesses", "--pairs", "12", "--sd", "relief_s=6", "-o", "plan.json")
REPORT = ("trial", "report", "trial.toml", "--days", "days.csv", "--values", "values.csv")


def season(folder: Path, **lacking: str) -> None:
    """Trial days with more wind than ordinary days, each step of which takes three seconds; the rules take 12 off."""
    pairs = json.loads((folder / "plan.json").read_text(encoding="utf-8"))["pairs"]
    chance, days, values = Random(5), ["day,date,pair,rules,course,field,wind"], ["day,outcome,value,group"]
    for number, pair in enumerate(pairs):
        for place, rules in enumerate((pair["first_day"], pair["second_day"])):
            day = f"{pair['pair']}{'ab'[place]}"
            wind = 5 + number % 4 + (2 + number % 3) * (rules == "trial")
            dated = f"2026-{4 + number // 4:02d}-{1 + 7 * (number % 4) + place:02d}"
            days.append(f"{day},{dated},{pair['pair']},{rules},Moor,75,{lacking.get(day, wind)}")
            level = 60 + 3 * wind - 12 * (rules == "trial") + chance.gauss(0, 1)
            values += [f"{day},relief_s,{level + group % 3:.1f},g{group}" for group in range(10)]
    (folder / "days.csv").write_text("\n".join(days) + "\n", encoding="utf-8")
    (folder / "values.csv").write_text("\n".join(values) + "\n", encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "trial.toml").write_text(TRIAL, encoding="utf-8")
    return tmp_path


def planned(folder: Path, *by: str) -> Done:
    return marram(*PLAN, *(word for name in by for word in ("--adjust", name)), cwd=folder)


def test_what_the_plan_fixes_is_frozen_with_it_and_adjusted_for(folder: Path) -> None:
    done = planned(folder, "Wind", "field")
    assert "adjusts the differences of the days for wind, field, and for nothing else" in done.stdout
    frozen = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    assert frozen["adjust"] == ["wind", "field"]
    season(folder)
    found = json.loads(marram(*REPORT, "--plan", "plan.json", "--json", cwd=folder).stdout)["findings"][0]
    assert found["adjusted"]["by"] == ["wind", "field"]
    assert found["adjusted"]["same"] == ["field"]
    assert found["adjusted"]["pairs"] == found["randomised_units"] == 12
    assert found["estimate"] == pytest.approx(-12 + 3 * 3, abs=1.0)  # the trial days had 3 steps more wind on average
    assert found["adjusted"]["estimate"] == pytest.approx(-12, abs=2.0)
    assert found["verdict"] != "does it: clearly enough to matter"
    text = marram(*REPORT, "--plan", "plan.json", cwd=folder).stdout
    assert "Adjusted for wind and field, as the plan has it" in text
    assert "The word rests on the days" in " ".join(text.split())


def test_a_day_without_wind_leaves_its_pair_out_of_the_adjusted_line_alone(folder: Path) -> None:
    planned(folder, "wind")
    season(folder, p03a="", p07b="")
    found = json.loads(marram(*REPORT, "--plan", "plan.json", "--json", cwd=folder).stdout)["findings"][0]
    assert found["randomised_units"] == 12
    assert (found["adjusted"]["pairs"], found["adjusted"]["left_out"]) == (10, ["p03", "p07"])
    assert any("2 pairs left out of the adjusted line" in sentence for sentence in found["says"])


def test_wind_that_never_differs_adjusts_nothing(folder: Path) -> None:
    planned(folder, "field")
    season(folder)
    found = json.loads(marram(*REPORT, "--plan", "plan.json", "--json", cwd=folder).stdout)["findings"][0]
    assert found["adjusted"]["estimate"] is None
    assert "never differed" in found["adjusted"]["reason"]


@pytest.mark.parametrize("by", [(), ("field",)])
def test_what_no_plan_fixed_is_refused(folder: Path, by: tuple[str, ...]) -> None:
    planned(folder, *by)
    season(folder)
    done = marram(*REPORT, "--plan", "plan.json", "--adjust", "wind", cwd=folder)
    assert done.returncode != 0
    assert "wind was not fixed in a plan" in done.stderr
    bare = marram(*REPORT, "--adjust", "wind", cwd=folder)
    assert "it names nothing to adjust for" in bare.stderr
    assert json.loads(marram(*REPORT, "--json", cwd=folder).stdout)["findings"][0]["adjusted"] is None


def test_asking_for_what_the_plan_fixed_changes_nothing(folder: Path) -> None:
    planned(folder, "wind", "field")
    season(folder)
    asked = marram(*REPORT, "--plan", "plan.json", "--adjust", "wind", "--json", cwd=folder)
    assert asked.stdout == marram(*REPORT, "--plan", "plan.json", "--json", cwd=folder).stdout


def test_a_plan_that_was_given_more_to_adjust_for_is_refused(folder: Path) -> None:
    planned(folder, "field")
    season(folder)
    plan = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    plan["adjust"].append("wind")
    (folder / "plan.json").write_text(json.dumps(plan), encoding="utf-8")
    assert "altered after it was frozen" in marram(*REPORT, "--plan", "plan.json", cwd=folder).stderr


@pytest.mark.parametrize(
    ("by", "more", "why"),
    [
        (("mood",), (), "'mood' is nothing that pairs of days are adjusted for"),
        (("note",), (), "wind, rain, field, green speed, start interval"),
        (("wind", "Wind"), (), "wind is named twice"),
        (("wind",), ("--pairs", "6", "--sd", "relief_s=3"), "6 pairs of days are too few to adjust for 1"),
    ],
)
def test_what_cannot_be_adjusted_for_is_refused_in_the_plan(folder: Path, by: tuple[str, ...], more: tuple[str, ...], why: str) -> None:
    done = marram(*PLAN, *more, *(word for name in by for word in ("--adjust", name)), cwd=folder)
    assert done.returncode != 0
    assert why in done.stderr
