"""A season ruled again: what another book makes of the logged balls, counted and never guessed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.support.running import ROOT, marram

LOG, COURSE = "examples/season/incidents.toml", "examples/courses/thimble-moor.geojson"
LENGTHS = "2023+examples/trials/fixed-lengths.toml"


def ruled(*words: str, log: str = LOG) -> dict[str, object]:
    done = marram("trial", "rerule", log, "--course", COURSE, *words, "--json")
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert isinstance(told, dict)
    return told


def test_the_same_book_changes_nothing() -> None:
    told = ruled("--book", "2023")
    assert told["changed"] == 0
    assert told["per_100_rounds"] == {"estimate": 0.0, "interval95": [0.0, pytest.approx(100 * 3.6889 / 240, abs=0.001)]}


def test_metres_in_the_place_of_club_lengths_change_areas_and_nothing_else() -> None:
    """The trial states sizes of relief areas in metres: which options there are, what they cost and from where stays."""
    told = ruled("--book", LENGTHS)
    incidents = told["incidents"]
    assert isinstance(incidents, list)
    assert len(incidents) == 14
    changes = {entry["id"]: entry["changed"] for entry in incidents}
    assert set(map(tuple, changes.values())) == {("area",), ()}
    assert changes["pond-7"] == ["area"]
    assert changes["out-3"] == []  # stroke and distance from the tee: no size is measured
    assert told["changed"] == 12
    # Each row is what `rule` says of the same ball.
    alone = json.loads(marram("rule", "examples/incidents/pond-7.toml", "--course", COURSE, "--book", LENGTHS, "--json").stdout)
    pond = next(entry for entry in incidents if entry["id"] == "pond-7")["books"][1]
    assert {option["procedure"]: option["penalty_strokes"] for option in pond["options"]} == {
        option["procedure"]: option["penalty_strokes"] for option in alone["books"][0]["options"]
    }


def test_a_penalty_that_a_trial_changes_is_told_as_that(tmp_path: Path) -> None:
    trial = tmp_path / "dearer.toml"
    change = 'key = "relief.unplayable-lateral.penalty_strokes"\nwas = 1\nnow = 2\nbecause = "Dearer."\n'
    trial.write_text(f'title = "Dearer"\ndated = 2026-03-01\non = ["2023"]\n[[change]]\n{change}', encoding="utf-8")
    incidents = ruled("--book", f"2023+{trial}")["incidents"]
    assert isinstance(incidents, list)
    changes = {entry["id"]: entry["changed"] for entry in incidents}
    assert changes["unplayable-5"] == ["penalty"]
    assert changes["pond-7"] == []


def test_an_older_edition_changes_options() -> None:
    incidents = ruled("--book", "2016")["incidents"]
    assert isinstance(incidents, list)
    assert any("options" in (entry["changed"] or []) for entry in incidents)


def test_limits_are_exact_and_rounds_may_be_given(tmp_path: Path) -> None:
    """Twelve of 480 rounds: 2.5 per 100, limits of twelve events 6.2006 and 20.9616 (tables of the Poisson distribution)."""
    told = ruled("--book", LENGTHS, "--rounds", "480")["per_100_rounds"]
    assert told == {
        "estimate": 2.5,
        "interval95": [pytest.approx(100 * 6.2006 / 480, abs=0.001), pytest.approx(100 * 20.9616 / 480, abs=0.001)],
    }
    text = (ROOT / LOG).read_text(encoding="utf-8").replace("rounds = 240\n", "")
    path = tmp_path / "log.toml"
    path.write_text(text, encoding="utf-8")
    assert ruled("--book", LENGTHS, log=str(path))["per_100_rounds"] is None
    assert "no rate can be told" in marram("trial", "rerule", str(path), "--course", COURSE, "--book", LENGTHS).stdout


def test_a_ball_that_lacks_a_fact_is_not_told_and_its_question_is(tmp_path: Path) -> None:
    path = tmp_path / "log.toml"
    path.write_text(
        'book = "2023"\n[[incident]]\nid = "a"\nhole = 7\nsituation = "penalty-area"\nball = { lost = true }\n', encoding="utf-8"
    )
    told = ruled("--book", LENGTHS, log=str(path))
    assert (told["changed"], told["cannot_tell"]) == (0, 1)
    assert "cannot tell. Ask:" in marram("trial", "rerule", str(path), "--course", COURSE, "--book", LENGTHS).stdout


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('book = "2023"\nrounds = 3\n', "holds no incident"),
        ('[[incident]]\nid = "a"\n', "which book"),
        ('book = "2023"\nrounds = -1\n[[incident]]\nid = "a"\n', "above zero"),
        ('book = "2023"\n[[incident]]\nhole = 7\n', "id of its own"),
        ('book = "2023"\nseason = 1\n', "no member 'season'"),
        ('book = "2023"\n[[incident]]\nid = "a"\nhole = 77\nsituation = "unplayable"\nball = { lost = true }\n', "77"),
        ("book = ", "TOML"),
    ],
)
def test_a_log_that_cannot_be_used_says_why(tmp_path: Path, text: str, told: str) -> None:
    path = tmp_path / "log.toml"
    path.write_text(text, encoding="utf-8")
    done = marram("trial", "rerule", str(path), "--course", COURSE, "--book", "2019")
    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr
