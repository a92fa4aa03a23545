"""One ball on its way to a printed ruling calls rooms below only, and passes those that docs/design/rooms.md names."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "marram"


def ranks() -> dict[str, int]:
    """How high each package stands; siblings stand level."""
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]["contracts"]
    layers = next(contract["layers"] for contract in contracts if contract["id"] == "layers")
    return {name.strip(" ()"): -number for number, layer in enumerate(layers) for name in re.split(r"[|:]", layer)}


@pytest.fixture(scope="module")
def calls(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[str, str]]:
    out = tmp_path_factory.mktemp("journey") / "ruling.pdf"
    words = [sys.executable, "-m", "tests.support.walked_rooms", str(out)]
    done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert out.read_bytes().startswith(b"%PDF")
    return [(caller, called) for caller, called in json.loads(done.stdout)]


def test_no_room_calls_one_above_it(calls: list[tuple[str, str]]) -> None:
    rank = ranks()

    def package(room: str) -> str:
        return room.partition(".")[0]

    up = [
        (caller, called)
        for caller, called in calls
        if caller and called and package(caller) != package(called) and rank[package(called)] >= rank[package(caller)]
    ]
    assert up == []


def test_the_way_passes_the_rooms_that_the_page_names(calls: list[tuple[str, str]]) -> None:
    page = (ROOT / "docs" / "design" / "rooms.md").read_text(encoding="utf-8")
    named = {name for line in page.splitlines() if re.match(r"\| \d+ \|", line) for name in re.findall(r"`([a-z_.]+)`", line.split("|")[2])}
    rooms = {name for name in named if (PACKAGE / name.replace(".", "/")).is_dir()}
    passed = {room for pair in calls for room in pair}
    assert len(rooms) > 12
    assert rooms - passed == set()


def test_a_call_upward_would_be_seen() -> None:
    rank = ranks()
    assert rank["cli"] > rank["office"] > rank["rulings"] > rank["relief"] > rank["core"]
    assert rank["sheets"] == rank["interchange"]
