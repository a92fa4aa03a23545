"""Walks the way of one ball to its printed ruling and prints which room called which: `python -m tests.support.walked_rooms OUT.pdf`.

A process of its own, since whatever ran before in a process may keep it from being watched.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from pathlib import Path
from types import CodeType, FrameType

from click.testing import CliRunner

from marram.cli.main import marram

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "marram"
EXAMPLES = ROOT / "examples"


def room_of(code: CodeType) -> str:
    """The room that a piece of code stands in, such as ``rulings.case``; empty for what is not of the package."""
    if not code.co_filename.startswith(str(PACKAGE)):
        return ""
    return ".".join(Path(code.co_filename).relative_to(PACKAGE).parts[:-1])


class Walk:
    """Notes each call from one room into another; what is passed down to be read there, such as a generator, is no call upward."""

    def __init__(self) -> None:
        self.calls: Counter[tuple[str, str]] = Counter()

    def note(self, frame: FrameType, event: str, argument: object) -> None:
        if event != "call" or frame.f_code.co_name.startswith("<") or not (into := room_of(frame.f_code)):
            return
        caller = frame.f_back
        while caller is not None and not room_of(caller.f_code):
            caller = caller.f_back
        if caller is not None and (room := room_of(caller.f_code)) != into:
            self.calls[room, into] += 1


def main(out: str) -> None:
    """Rule on a ball under a trial, print it, and tell the calls."""
    course, incident = EXAMPLES / "courses" / "thimble-moor.geojson", EXAMPLES / "incidents" / "path-15.toml"
    trial = EXAMPLES / "trials" / "fixed-lengths.toml"
    words = ["rule", str(incident), "--course", str(course), "--book", f"2023+{trial}", "--draw", out, "--json"]
    walked = Walk()
    sys.setprofile(walked.note)
    try:
        done = CliRunner().invoke(marram, words)
    finally:
        sys.setprofile(None)
    assert done.exit_code == 0, done.output
    assert json.loads(done.stdout)["books"]
    print(json.dumps(sorted(walked.calls)))


if __name__ == "__main__":
    main(sys.argv[1])
