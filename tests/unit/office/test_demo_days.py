"""The two club days of the demo are what their script writes, and what is built in can be seen in them."""

from __future__ import annotations

import csv
import io
from pathlib import Path
from statistics import mean

from builders.demo_days.__main__ import BUILT_IN, day_files

EVENTS = Path(__file__).resolve().parents[3] / "examples" / "events"


def test_the_files_are_what_the_script_writes() -> None:
    for name, text in day_files().items():
        assert (EVENTS / name).read_text(encoding="utf-8") == text


def test_what_is_built_in_can_be_seen() -> None:
    def values(name: str, column: str) -> list[float]:
        rows = csv.DictReader(io.StringIO(day_files()[name]))
        return [float(row[column]) for row in rows if row[column]]

    searched = mean(values("log.csv", "search_s")) - mean(values("ordinary/log.csv", "search_s"))
    assert abs(searched - BUILT_IN["search_s"]) < 15
    assert max(values("log.csv", "search_s")) <= 120 < max(values("ordinary/log.csv", "search_s")) <= 180
