"""`marram course marking` on the demo course: the flaws that were built in are found, and no others."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from functools import lru_cache
from pathlib import Path

import pytest

from tests.support.running import ROOT, marram

COURSE = "examples/courses/thimble-moor.geojson"
KINDS = {
    1: "nowhere",
    2: "mostly-out-of-bounds",
    3: "only-in-bunker",
    4: "only-in-other-penalty-area",
    5: "no-play-zone",
}
BOOK = ("--book", "2023")
"""The flaws were built in by what this edition makes of them."""
NEAR_M = 50.0
"""A flaw is a stretch of edge: its worst point may lie so far from the place that its builder names."""


@lru_cache(maxsize=1)
def checked() -> tuple[int, dict[str, object]]:
    done = marram("course", "marking", COURSE, *BOOK, "--json")
    return done.returncode, json.loads(done.stdout)


def built_in() -> list[tuple[int, int, str, tuple[float, float]]]:
    """Number, hole, feature and place in degrees of each flaw, from the course file."""
    traps = []
    for each in json.loads((ROOT / COURSE).read_text(encoding="utf-8"))["features"]:
        properties = each["properties"]
        for number, hole, at in zip(
            properties.get("trap_numbers", []),
            properties.get("trap_holes", []),
            zip(properties.get("trap_places", [])[::2], properties.get("trap_places", [])[1::2], strict=True),
            strict=True,
        ):
            traps.append((number, hole, properties["id"], at))
    return sorted(traps)


def apart_m(one: tuple[float, float], other: tuple[float, float]) -> float:
    metres = 111_200.0
    return math.hypot((one[0] - other[0]) * metres * math.cos(math.radians(one[1])), (one[1] - other[1]) * metres)


def serious() -> list[dict[str, object]]:
    book = checked()[1]["books"][0]  # type: ignore[index]
    return [place for place in book["places"] if place["serious"]]


def test_each_flaw_is_found_on_its_hole() -> None:
    assert len(built_in()) == len(KINDS)
    for number, hole, feature, at in built_in():
        mine = [place for place in serious() if place["feature"] == feature and place["hole"] == hole and place["fault"] == KINDS[number]]
        assert any(apart_m(tuple(place["at"]), at) < NEAR_M for place in mine), (number, mine)  # type: ignore[arg-type]


def test_nothing_else_is_found() -> None:
    """The same flaw may be seen from the other bank and from a neighbouring hole; anything else would be a false alarm."""
    for place in serious():
        near = [number for number, _, _, at in built_in() if apart_m(tuple(place["at"]), at) < NEAR_M]  # type: ignore[arg-type]
        assert any(KINDS[number] == place["fault"] for number in near), place


def test_the_contract_and_the_exit_code() -> None:
    code, answer = checked()
    assert code == 1
    assert answer["faults"] == len(serious())
    for edge in answer["edges"]:  # type: ignore[attr-defined]
        assert {"feature", "hole", "points", "none", "small", "least_m2"} <= edge.keys()
        assert edge["none"] + edge["small"] <= edge["points"]
    assert checked()[1] == json.loads(marram("course", "marking", COURSE, *BOOK, "--json").stdout)


def test_draws_the_course_and_every_place(tmp_path: Path) -> None:
    done = marram("course", "marking", COURSE, *BOOK, "--draw", str(tmp_path))
    assert done.returncode == 1
    assert "Hole 9, pond-9" in done.stdout
    drawn = sorted(path.name for path in tmp_path.iterdir())
    assert len(drawn) == len(serious()) + 1
    texts = [(tmp_path / name).read_text(encoding="utf-8") for name in drawn]
    assert all(text.startswith("<svg") for text in texts)
    assert not [text for text in texts if "pond-" in text]  # a place is told as one walks to it, not by a name of the file
    assert "Hole 9, pond 119 m before the green, 44 m right" in texts[0]


def test_a_fixed_length_needs_no_club_and_a_book_without_lateral_relief_is_said() -> None:
    trial = "2023+examples/trials/fixed-lengths.toml"
    answer = json.loads(marram("course", "marking", COURSE, "--book", trial, "--json").stdout)
    assert answer["books"][0]["size_m"] == pytest.approx(2.0)
    assert answer["books"][0]["size"] == "2 metres"


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("nowhere.geojson",), 2, "no such file"),
        ((COURSE, "--longest-club", "400"), 2, "400 in cannot be"),
        ((COURSE, "--tolerance", "0"), 2, "tolerance"),
        ((COURSE, "--book", "1999"), 2, "no such edition"),
    ],
)
def test_what_cannot_be_checked_is_one_clear_message(words: tuple[str, ...], code: int, said: str) -> None:
    done = marram("course", "marking", *words)
    assert done.returncode == code
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_help_needs_no_compiler() -> None:
    code = "import sys\ntry:\n    from marram.cli.main import main; main()\nfinally:\n    print('numba' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code, "course", "--help"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.stdout.strip().endswith("False")
