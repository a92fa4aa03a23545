"""How the command line ends when a stream is closed, a file has no end, or the program itself is at fault."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from marram.cli.ending import tell_ending
from marram.core.errors import DataError, OwnFault, Stopped
from tests.support.running import ROOT, marram

START = [sys.executable, "-c", "from marram.cli.main import main; main()"]


def _with_closed(number: int, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a command with one of its three streams closed."""
    return subprocess.run(
        ["sh", "-c", f'exec "$@" {number}>&-', "sh", *START, *words], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False
    )


def test_questions_that_nobody_can_answer_end_in_words(tmp_path: Path) -> None:
    done = _with_closed(0, "trial", "new", "-o", str(tmp_path / "t.toml"))
    assert (done.returncode, done.stderr.endswith("Stopped: nothing was written.\n")) == (Stopped.exit_code, True)
    assert not list(tmp_path.iterdir())


def test_a_closed_output_takes_nothing_and_breaks_nothing(tmp_path: Path) -> None:
    strip = tmp_path / "strip.pdf"
    done = _with_closed(1, "sheet", "strip", "--length", "2 m", "-o", str(strip))
    assert (done.returncode, done.stderr.count("Traceback")) == (0, 0)
    assert strip.read_bytes().startswith(b"%PDF")
    assert strip.read_bytes().rstrip().endswith(b"%%EOF")


def test_a_closed_complaint_leaves_the_exit_code() -> None:
    assert _with_closed(2, "trial", "check", "nope.toml").returncode == DataError.exit_code


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="there is no device without end here")
@pytest.mark.parametrize(
    "words",
    [
        ("course", "check", "/dev/zero"),
        ("trial", "check", "/dev/zero"),
        ("score", "/dev/zero", "--terms", "/dev/zero"),
        ("handicap", "index", "/dev/zero"),
        ("book", "show", "search.limit_min", "--book", "2023+/dev/zero"),
    ],
)
def test_a_file_without_end_is_refused(words: tuple[str, ...]) -> None:
    done = marram(*words)
    assert (done.returncode, "no end" in done.stderr) == (DataError.exit_code, True), done.stderr


def test_a_pipe_is_read_to_its_end() -> None:
    course = (ROOT / "examples" / "courses" / "thimble-moor.geojson").read_bytes()
    done = subprocess.run([*START, "course", "check", "/dev/stdin"], cwd=ROOT, input=course, capture_output=True, timeout=120, check=False)
    assert done.returncode in {0, 1}, done.stderr


def test_a_fault_of_the_program_is_told_as_one(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "argv", ["marram", "book", "list"])
    try:
        json.loads("{")
    except ValueError as slip:
        assert tell_ending(slip) == OwnFault.exit_code == 70
    told = capsys.readouterr().err
    assert "Marram itself has a fault here: JSONDecodeError" in told
    assert "Traceback" not in told
    monkeypatch.setattr(sys, "argv", ["marram", "book", "list", "--json"])
    assert tell_ending(TypeError("x")) == OwnFault.exit_code
    assert json.loads(capsys.readouterr().out)["error"]["code"] == "own_fault"


def test_what_is_left_of_a_killed_run_goes_and_what_may_go_on_stays(tmp_path: Path) -> None:
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    left = {name: tmp_path / f".marram-{name}.part" for name in (f"{ended.pid}-old", f"{ended.pid}-new", f"{os.getpid()}-old", "foreign")}
    for name, file in left.items():
        file.touch()
        if not name.endswith("new"):
            os.utime(file, (0, 0))
    assert marram("sheet", "strip", "--length", "2 m", "-o", tmp_path / "strip.pdf").returncode == 0
    assert {name for name, file in left.items() if file.exists()} == {f"{ended.pid}-new", f"{os.getpid()}-old", "foreign"}
