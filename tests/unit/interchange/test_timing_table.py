"""Timings as they are written down, with every fault told by row, and nobody overtaking."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import RecordError
from marram.interchange.measured.timing_table import read_timings
from marram.records.timings import HoleTiming

HEAD = "day,group,hole,began,cleared\n"


def read(folder: Path, *rows: str, head: str = HEAD) -> tuple[HoleTiming, ...]:
    table = folder / "timings.csv"
    table.write_text(head + "\n".join(rows) + "\n", encoding="utf-8")
    return read_timings(table, range(1, 19))


def test_times_of_day_become_minutes_on_the_hole(tmp_path: Path) -> None:
    first, second = read(tmp_path, "sat,a,1,8:00,8:12:30", "sat,b,1,8:10,8:22", head="Day,Group,Hole,Teed off,Green clear\n")
    assert (first.minutes, second.hole, second.began_s) == (12.5, 1, 8 * 3600 + 600)


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (["sat,a,1,8:00,8:12", "sat,b,1,8:10,8:11"], "on hole 1 group b begins after group a and clears the green before it"),
        (["sat,a,1,8:00,8:12", "sat,a,1,8:20,8:30"], "group a stands twice on hole 1"),
        (["sat,a,1,8:00,8:12", "sat,a,2,8:11,8:30"], "group a begins hole 2 before it has cleared the green of hole 1"),
        (["sat,a,19,8:00,8:12"], "the course has no hole 19"),
        (["sat,a,,8:00,8:12"], "column hole: is empty"),
        (["sat,,1,8:00,8:12"], "column group: is empty"),
        (["sat,a,1,8:12,8:00"], "no time to clear a green begun at 8:12"),
        (["sat,a,1,8:00,9:01"], "up to an hour"),
        (["sat,a,1,8 am,8:12"], "is no time of day"),
    ],
)
def test_what_cannot_have_been_is_refused(tmp_path: Path, rows: list[str], said: str) -> None:
    with pytest.raises(RecordError, match=said):
        read(tmp_path, *rows)


def test_other_days_and_holes_overtake_nobody(tmp_path: Path) -> None:
    assert len(read(tmp_path, "sat,a,1,8:00,8:12", "sun,b,1,8:10,8:11", "sat,b,2,8:05,8:10", "sat,c,1,8:12,8:12:01")) == 4


def test_a_table_without_its_columns_is_refused(tmp_path: Path) -> None:
    with pytest.raises(RecordError):
        read(tmp_path, "a,1", head="group,hole\n")
