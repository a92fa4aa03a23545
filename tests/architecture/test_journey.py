"""One ball on its way to a printed ruling calls rooms below only, and passes those that docs/design/rooms.md names."""

from __future__ import annotations

import json
import re
import sys
import tomllib
from collections import Counter
from pathlib import Path
from types import CodeType, FrameType

import pytest
from click.testing import CliRunner, Result

from marram.cli.main import marram
from marram.rulebook.reading.files import packaged_catalogue

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "marram"
EXAMPLES = ROOT / "examples"


def ranks() -> dict[str, int]:
    """How high each package stands; siblings stand level."""
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]["contracts"]
    layers = next(contract["layers"] for contract in contracts if contract["id"] == "layers")
    return {name.strip(" ()"): -number for number, layer in enumerate(layers) for name in re.split(r"[|:]", layer)}


def room_of(code: CodeType) -> str:
    """The room that a piece of code stands in, such as ``rulings.case``; empty for what is not of the package."""
    if not code.co_filename.startswith(str(PACKAGE)):
        return ""
    return ".".join(Path(code.co_filename).relative_to(PACKAGE).parts[:-1])


class Walk:
    """Notes each call from one room into another; what is passed down to be read there, such as a generator, is no call upward."""

    def __init__(self) -> None:
        self.calls: Counter[tuple[str, str]] = Counter()
        # The rule data are read once a process: where another test has had them read, nobody goes into that room again.
        self.not_entered_again = {"rulebook.reading"} if packaged_catalogue.cache_info().currsize else set[str]()

    def note(self, frame: FrameType, event: str, argument: object) -> None:
        if event != "call" or frame.f_code.co_name.startswith("<") or not (into := room_of(frame.f_code)):
            return
        caller = frame.f_back
        while caller is not None and not room_of(caller.f_code):
            caller = caller.f_back
        if caller is not None and (room := room_of(caller.f_code)) != into:
            self.calls[room, into] += 1


def go(words: list[str]) -> tuple[Walk, Result, bool]:
    """Walk the way of one command: what was noted, how the command ended, and whether it was watched to its end.

    Python drops a profile function for good when anything fails inside it, a finalizer that is not even ours among them.
    """
    walked = Walk()
    sys.setprofile(walked.note)
    try:
        done = CliRunner().invoke(marram, words)
    finally:
        is_whole = sys.getprofile() == walked.note
        sys.setprofile(None)
    return walked, done, is_whole


@pytest.fixture(scope="module")
def walk(tmp_path_factory: pytest.TempPathFactory) -> Walk:
    out = tmp_path_factory.mktemp("journey") / "ruling.pdf"
    course, incident = EXAMPLES / "courses" / "thimble-moor.geojson", EXAMPLES / "incidents" / "path-15.toml"
    trial = EXAMPLES / "trials" / "fixed-lengths.toml"
    words = ["rule", str(incident), "--course", str(course), "--book", f"2023+{trial}", "--draw", str(out), "--json"]
    walked, done, is_whole = go(words)
    if not is_whole:
        walked, done, is_whole = go(words)
    assert is_whole, "something took the profile function away before the walk was over"
    assert done.exit_code == 0, done.output
    assert json.loads(done.stdout)["books"]
    assert out.read_bytes().startswith(b"%PDF")
    return walked


def test_no_room_calls_one_above_it(walk: Walk) -> None:
    rank = ranks()

    def package(room: str) -> str:
        return room.partition(".")[0]

    up = [
        (caller, called)
        for caller, called in walk.calls
        if caller and called and package(caller) != package(called) and rank[package(called)] >= rank[package(caller)]
    ]
    assert up == []


def test_the_way_passes_the_rooms_that_the_page_names(walk: Walk) -> None:
    page = (ROOT / "docs" / "design" / "rooms.md").read_text(encoding="utf-8")
    named = {name for line in page.splitlines() if re.match(r"\| \d+ \|", line) for name in re.findall(r"`([a-z_.]+)`", line.split("|")[2])}
    rooms = {name for name in named if (PACKAGE / name.replace(".", "/")).is_dir()}
    passed = {room for pair in walk.calls for room in pair}
    assert len(rooms) > 12
    assert rooms - passed - walk.not_entered_again == set()


def test_a_call_upward_would_be_seen() -> None:
    rank = ranks()
    assert rank["cli"] > rank["office"] > rank["rulings"] > rank["relief"] > rank["core"]
    assert rank["sheets"] == rank["interchange"]
