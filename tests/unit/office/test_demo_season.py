"""The demo season is what its script writes, and what is built in can be seen in it."""

from __future__ import annotations

from pathlib import Path
from statistics import mean

from builders.demo_season.__main__ import BUILT_IN, GROUPS, PAIRS, season_files
from marram.interchange.field.trial_records import read_records
from marram.office.workroom import Workroom
from marram.records.rows import Arm

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"


def test_the_files_are_what_the_script_writes() -> None:
    for name, text in season_files().items():
        assert (EXAMPLES / "season" / name).read_text(encoding="utf-8") == text


def test_the_season_is_read_whole_and_shows_what_is_built_in() -> None:
    trial = Workroom().trial(EXAMPLES / "trials" / "four-changes.toml")
    records = read_records(EXAMPLES / "season" / "days.csv", EXAMPLES / "season" / "values.csv", trial)
    assert len(records.pairs()) == PAIRS
    assert not records.left_out
    arms = {day.day: day.arm for day in records.days}

    def values(outcome: str, arm: Arm) -> list[float]:
        return [entry.value for entry in records.observations if entry.outcome == outcome and arms[entry.day] is arm]

    assert len(values("round_min", Arm.TRIAL)) == PAIRS * GROUPS
    difference = mean(values("search_s", Arm.TRIAL)) - mean(values("search_s", Arm.ORDINARY))
    assert abs(difference - BUILT_IN["search_s"]) < 8
    assert not [entry for entry in records.observations if entry.outcome == "change_met" and entry.change == 4 and entry.value]
