"""Lists and schemas under any book, and the error object that every command prints for JSON where its input is broken."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.running import Run

ROOT = Path(__file__).parents[2]
COURSE, BROKEN = str(ROOT / "tests/data/invented/gull-bank.geojson"), str(ROOT / "tests/badfiles/broken.toml")
BOOKS = [(), ("--book", "2019"), ("--book", f"2023+{ROOT / 'examples/trials/divot-holes.toml'}"), ("--book", "2023", "--book", "2019")]
COMMANDS = [
    ("rule", BROKEN, "--course", COURSE),
    ("rule", str(ROOT / "examples/incidents/pond-7.toml"), "--course", BROKEN),
    ("rule", str(ROOT / "examples/incidents/pond-7.toml"), "--course", COURSE, "--today", BROKEN),
    ("rule", str(ROOT / "examples/incidents/pond-7.toml"), "--course", COURSE, "--book", f"2023+{BROKEN}"),
    ("rule",),
    ("rule", "\udcff.toml", "--course", "\udcfe.geojson"),
    ("act", "no-such-act"),
    ("search", "no-such-event=3"),
    ("drop", "no-such-event"),
    ("object", "no-such-thing"),
    ("form", "no-such-form"),
    ("suspension", "--form", "no-such-form"),
    ("course", "check", BROKEN),
    ("course", "import", BROKEN, "--as", "map", "-o", "never.geojson"),
    ("course", "import", BROKEN, "--as", "geojson", "-o", "never.geojson"),
    ("course", "marking", BROKEN),
    ("course", "holes", BROKEN),
    ("course", "places", BROKEN, "--procedure", "unplayable-lateral"),
    ("trial", "show", BROKEN),
    ("trial", "check", BROKEN),
    ("trial", "plan", BROKEN, "--seed", "s"),
    ("trial", "report", BROKEN, "--days", BROKEN, "--values", BROKEN),
    ("trial", "guide", BROKEN, "--course", COURSE, "-o", "never"),
    ("book", "show", f"2023+{BROKEN}"),
    ("book", "compare", "1900", "2023"),
    ("no-such-command",),
]


@pytest.mark.parametrize("book", BOOKS)
@pytest.mark.parametrize("more", [(), ("--json",)])
def test_the_schema_and_the_situations_are_told_under_any_book(called: Run, book: tuple[str, ...], more: tuple[str, ...]) -> None:
    code, out, err = called("rule", "--schema", *book, *more)
    assert (code, err) == (0, "")
    assert json.loads(out)["$defs"]["IncidentTable"]["required"] == ["hole", "situation", "ball"]
    code, out, err = called("rule", "--situations", *book, *more)
    assert (code, err) == (0, "")
    assert "penalty-area" in out


@pytest.mark.parametrize("asked", ["--schema", "--situations"])
def test_a_book_that_is_not_there_is_told(called: Run, asked: str) -> None:
    code, out, _ = called("rule", asked, "--book", "1900", "--json")
    assert code == 2
    assert json.loads(out)["error"]["where"] == "1900"


@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: " ".join(words[:2])[:30])
def test_broken_input_gives_the_error_object(called: Run, words: tuple[str, ...]) -> None:
    code, out, err = called(*words, "--json")
    assert code in {2, 4}, err
    told = json.loads(out)["error"]
    assert told["message"].strip()
    assert told["hint"].strip()
    assert (told["where"] or told.get("field", "")).strip()
    out.encode()


@pytest.mark.parametrize("words", [("rule", "--schema"), ("book", "list"), ("act", "wrong-ball", "--book", "2023")])
def test_an_answer_that_cannot_be_printed_is_told(words: tuple[str, ...]) -> None:
    program = "from marram.cli.main import main; main()"
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-c", program, *words], stdout=full, stderr=subprocess.PIPE, text=True, check=False, env=dict(os.environ)
        )
    assert done.returncode == 2
    assert done.stderr == "marram: The answer cannot be printed: No space left on device. Give a place that is there and has room.\n"
