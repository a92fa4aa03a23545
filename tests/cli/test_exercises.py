"""Clarity exercises and stations on the command line: drawn, printed, and weighed when their tables come back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from builders.demo_exercises.__main__ import FOLDER, exercise_files
from tests.support.pdf_reading import words_of, words_of_page
from tests.support.running import marram

TRIAL = str(FOLDER.parent / "trials" / "four-changes.toml")
INCIDENTS, TASKS = str(FOLDER / "incidents.toml"), str(FOLDER / "tasks.toml")
CLARITY = ("trial", "clarity", "report", TRIAL, "--incidents", INCIDENTS, "--table")


def test_the_example_tables_are_what_the_builder_writes() -> None:
    for name, text in exercise_files().items():
        assert (FOLDER / name).read_text(encoding="utf-8") == text


def test_a_clarity_exercise_is_drawn_with_a_sheet_for_each_official(tmp_path: Path) -> None:
    words = ("trial", "clarity", "plan", TRIAL, "--incidents", INCIDENTS, "--officials", "12", "--seed", "three-firths-2026")
    done = marram(*words, "-o", str(tmp_path / "exercise"), "--json")
    assert done.returncode == 0
    assert len(json.loads(done.stdout)["assigned"]) == 120
    table = (tmp_path / "exercise" / "table.csv").read_text(encoding="utf-8").splitlines()
    came_back = (FOLDER / "rulings.csv").read_text(encoding="utf-8").splitlines()
    # What comes back is the table that was made, filled in.
    assert [line.split(",")[:4] for line in table] == [line.split(",")[:4] for line in came_back]
    told = words_of((tmp_path / "exercise" / "sheets.pdf").read_bytes())
    assert all(f"Official o{number:02d}" in told for number in range(1, 13))
    assert told.count("By the draft") == sum(line.split(",")[3] == "draft" for line in table)


def test_what_comes_back_is_weighed_and_held_against_what_the_texts_mean() -> None:
    told = json.loads(marram(*CLARITY, str(FOLDER / "rulings.csv"), "--json").stdout)
    assert told["verdict"] == "does it: clearly enough to matter"
    present, draft = told["texts"]
    assert (present["text"], draft["text"]) == ("present", "draft")
    assert present["raw_agreement"] < draft["raw_agreement"]
    assert present["split"][0]["incident"]
    # The incident that names an act is held against Marram's own ruling: a wrong ball costs two strokes under either text.
    own = [entry["answer"] for entry in told["meant"] if entry["incident"] == "another-ball"]
    assert own == ["two penalty strokes", "two penalty strokes"]
    text = marram(*CLARITY, str(FOLDER / "rulings.csv")).stdout
    assert "Officials split on" in text
    assert "At least 0.1 was wanted" in text


def test_half_a_table_says_so(tmp_path: Path) -> None:
    lines = (FOLDER / "rulings.csv").read_text(encoding="utf-8").splitlines()
    blank = [line if number < 40 else ",".join([*line.split(",")[:4], "", ""]) for number, line in enumerate(lines)]
    path = tmp_path / "half.csv"
    path.write_text("\n".join(blank), encoding="utf-8")
    told = json.loads(marram(*CLARITY, str(path), "--json").stdout)
    assert told["blank"] == 81
    assert told["verdict"] == "too little to judge"


def test_stations_are_drawn_and_weighed(tmp_path: Path) -> None:
    drawn = marram("trial", "stations", "plan", TRIAL, "--tasks", TASKS, "--players", "6", "--seed", "a", "-o", str(tmp_path))
    assert drawn.returncode == 0
    assert "Player p06" in words_of((tmp_path / "sheets.pdf").read_bytes())
    words = ("trial", "stations", "report", TRIAL, "--tasks", TASKS, "--table", str(FOLDER / "stations.csv"))
    (finding,) = json.loads(marram(*words, "--json").stdout)["findings"]
    assert (finding["change"], finding["outcome"], finding["effect"]["compared"]) == (2, "relief_s", 16)
    # Nine seconds were built in, sixteen players of two tasks each: the interval holds them.
    low, high = finding["effect"]["interval95"]
    assert low < -9 < high < 0
    assert "drop-height.height" in marram(*words).stdout


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("clarity", "plan", TRIAL, "--incidents", INCIDENTS, "--officials", "5", "--seed", "a"), "at least 6"),
        (("clarity", "plan", TRIAL, "--incidents", TASKS, "--seed", "a"), "member"),
        (("stations", "plan", TRIAL, "--tasks", INCIDENTS, "--seed", "a"), "member"),
        (("stations", "plan", TRIAL, "--tasks", TASKS, "--seed", " "), "seed"),
        (("stations", "report", TRIAL, "--tasks", TASKS, "--table", str(FOLDER / "rulings.csv")), "player"),
    ],
)
def test_what_cannot_be_is_told_without_a_traceback(words: tuple[str, ...], told: str) -> None:
    done = marram("trial", *words)
    assert done.returncode in {2, 4}
    assert told in done.stderr
    assert "Traceback" not in done.stderr


def test_a_plan_of_stations_tells_how_many_players_it_needs_where_the_spread_is_told() -> None:
    words = ("trial", "stations", "plan", TRIAL, "--tasks", TASKS, "--players", "12", "--seed", "x")
    assert json.loads(marram(*words, "--json").stdout)["stations"] == []
    told = json.loads(marram(*words, "--sd", "relief_s=10", "--sd", "search_s=10", "--json").stdout)["stations"]
    assert told
    assert all(size["players"] == 12 and size["players_needed"] and size["least_effect"] > 0 for size in told)
    assert "players under both texts find" in marram(*words, "--sd", "relief_s=10", "--sd", "search_s=10").stdout.replace("\n   ", " ")


def test_a_plan_of_a_clarity_exercise_tells_how_many_rulings_it_needs_where_an_agreement_is_supposed() -> None:
    words = ("trial", "clarity", "plan", TRIAL, "--incidents", INCIDENTS, "--officials", "12", "--seed", "x")
    assert json.loads(marram(*words, "--json").stdout)["clarity"] is None
    told = json.loads(marram(*words, "--agreement", "0.5", "--matters", "0.15", "--json").stdout)["clarity"]
    assert told["rulings"] == 60
    assert told["rulings_needed"] > 170
    refused = marram(*words, "--agreement", "0.95")
    assert refused.returncode == 4
    assert "leaves no room" in refused.stderr


def test_a_card_hangs_at_each_station_with_both_texts_and_what_is_measured(tmp_path: Path) -> None:
    """From examples/exercises/tasks.toml and change 2 of the trial: knee height now, any height under the draft, seconds."""
    out = str(tmp_path / "stations")
    drawn = marram("trial", "stations", "plan", TRIAL, "--tasks", TASKS, "--players", "6", "--seed", "a", "-o", out, "--json")
    pdf = (tmp_path / "stations" / "sheets.pdf").read_bytes()
    first, second, slips = (words_of_page(pdf, number) for number in range(3))
    for number, card in enumerate((first, second), start=1):
        assert card.startswith(f"Station {number} ")
        for told in (
            "From knee height.",
            "From any height, so that it falls through the air.",
            "seconds, 5 to 900",
            "Lightning",
            "People in range",
        ):
            assert told in card
        assert card.index("Under the text in force") < card.index("Under the draft") < card.index("From knee height.")
        assert card.index("From knee height.") < card.index("From any height")
    assert "Take free relief from the wall" in first
    assert "Take free relief from the path" in second
    assert "Player p01" in slips
    # A player's lines name the stations and texts in the order that was drawn.
    order = [(each["item"], each["text"]) for each in json.loads(drawn.stdout)["assigned"] if each["person"] == "p01"]
    stations = {"beside-the-wall": 1, "off-the-path": 2}
    texts = {"draft": "by the draft", "present": "by the text in force"}
    lines = [f"{place}. At station {stations[item]}, {texts[text]}" for place, (item, text) in enumerate(order, start=1)]
    places = [slips.index(line) for line in lines]
    assert places == sorted(places)
    assert "seconds, 5 to 900" in slips


def test_officials_have_the_two_texts_at_hand(tmp_path: Path) -> None:
    words = ("trial", "clarity", "plan", TRIAL, "--incidents", INCIDENTS, "--officials", "6", "--seed", "a", "-o", str(tmp_path / "c"))
    assert marram(*words).returncode == 0
    pdf = (tmp_path / "c" / "sheets.pdf").read_bytes()
    first = words_of_page(pdf, 0)
    assert first.startswith("The two texts")
    for told in ("3 minutes.", "2 minutes.", "Two club-lengths.", "Four club-lengths.", "10 seconds.", "20 seconds."):
        assert told in first
    assert words_of_page(pdf, 1).startswith("Official o01")
