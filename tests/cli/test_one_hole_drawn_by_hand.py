"""A hole drawn by hand: a pond in two outlines that meet in a point, a yellow ditch at its end, a path with a fork, and a trial of ruts.

Places and expectations were worked out from the drawing, not from answers.
"""

from __future__ import annotations

import json
from functools import partial
from pathlib import Path

import pytest

from tests.support.running import Run

COURSE = "tests/data/invented/gull-bank.geojson"
PLAYER = '[player]\nhand = "right"\nlongest_club_in = 45\n'
ON_THE_SEAM = (
    f'hole = 1\nsituation = "penalty-area"\nball = {{ x_m = 131, y_m = -32 }}\n{PLAYER}[facts]\ncrossed_at = {{ x_m = 128.2, y_m = -28 }}\n'
)
ON_THE_FORK = f'hole = 1\nsituation = "immovable-obstruction"\nball = {{ x_m = 61.5, y_m = 26.9 }}\n{PLAYER}'
RUTS = """title = "Out of wheel ruts"
dated = 2026-11-01
on = ["2023"]
[[change]]
because = "Mowers leave ruts that no Committee finds in time."
[change.conditions.wheel-rut]
means = "A rut left by a wheel."
radius_m = 0.3
[change.add."situation.wheel-rut"]
means = "The ball lies in the rut of a wheel."
procedures = ["wheel-rut-away"]
conditions = ["wheel-rut"]
[change.add."relief.wheel-rut-away"]
means = "Free drop beside the rut of a wheel."
title = "Free drop from a wheel rut"
allowed = true
penalty_strokes = 0
ball_in = ["general-area"]
reference = "nearest-point-of-complete-relief"
clear_of = ["lie", "stance"]
shape = "disc"
size = { club_lengths = 1 }
in_areas = ["general-area"]
put = "drop"
"""


@pytest.fixture
def rule(called: Run, tmp_path: Path) -> Run:
    def run(text: str, *arguments: str) -> tuple[int, str, str]:
        file = tmp_path / "ball.toml"
        file.write_text(text)
        return called("rule", str(file), "--course", COURSE, "--book", "2023", *arguments)

    return partial(run)


def test_before_anything_can_be_ruled_the_marks_to_choose_from_are_named(rule: Run) -> None:
    code, _, err = rule(ON_THE_SEAM)
    assert code == 3
    assert "where two marks meet: red or yellow? (crossed-mark)" in " ".join(err.split())


@pytest.mark.parametrize(("mark", "is_lateral"), [("red", True), ("yellow", False)])
def test_the_mark_that_was_crossed_decides_and_no_stretch_of_nothing_is_told(rule: Run, mark: str, is_lateral: bool) -> None:
    code, out, _ = rule(ON_THE_SEAM + f'crossed_mark = "{mark}"\n')
    assert code == 0
    assert ("Lateral relief. One penalty stroke." in out) is is_lateral
    assert "Usable on the line" in out and "0.00 m to 0.00 m" not in out


def test_both_arms_of_a_fork_are_one_path(rule: Run) -> None:
    code, out, _ = rule(ON_THE_FORK)
    assert code == 0
    assert "path (path-long) and path (path-spur) touch: relief is from all as one." in " ".join(out.split())
    assert "no other club moves the point" in " ".join(out.split())


def test_what_asking_names_for_a_trial_can_be_typed(called: Run, tmp_path: Path) -> None:
    trial = tmp_path / "my ruts.toml"
    trial.write_text(RUTS)
    code, out, _ = called("ask", "ball lies in the rut of a wheel", "--book", f"2023+{trial}", "--json")
    assert code == 0
    commands = {lead["id"]: lead["command"] for lead in json.loads(out)["answers"]}
    assert commands["situation.wheel-rut"].endswith(f"--book '2023+{trial}'")
