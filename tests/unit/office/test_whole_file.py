"""Writing: whole or not at all, whatever stops it, and a clear word where it cannot be done."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from random import Random

import pytest

from marram.core.errors import DataError
from marram.office.whole_file import folder_at, write_whole

ROOT = Path(__file__).parents[3]
NOBODY = 65534
LARGE = 4_000_000


def start(program: str, *words: str) -> subprocess.Popen[str]:
    """A run of its own; as in a fresh start, nothing is shared but the disk."""
    head = "import os, resource, sys, tempfile\nfrom pathlib import Path\nfrom marram.office.whole_file import write_whole\n"
    command = [sys.executable, "-c", head + program, *words]
    return subprocess.Popen(command, text=True, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def test_a_file_is_replaced_and_keeps_its_permissions(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o640)
    write_whole(path, "new ü")
    assert path.read_text(encoding="utf-8") == "new ü"
    assert path.stat().st_mode & 0o777 == 0o640
    assert [each.name for each in tmp_path.iterdir()] == ["a.txt"]


def test_a_new_file_has_the_permissions_of_any_other(tmp_path: Path) -> None:
    write_whole(tmp_path / "a.txt", b"bytes")
    (tmp_path / "b.txt").write_bytes(b"bytes")
    assert (tmp_path / "a.txt").stat().st_mode == (tmp_path / "b.txt").stat().st_mode


def test_a_link_stays_a_link_and_a_long_name_is_no_hindrance(tmp_path: Path) -> None:
    real, link, long = tmp_path / "real.txt", tmp_path / "link.txt", tmp_path / ("n" * 251 + ".txt")
    real.write_text("old", encoding="utf-8")
    link.symlink_to(real)
    write_whole(link, "new")
    write_whole(long, "new")
    assert link.is_symlink()
    assert (real.read_text(encoding="utf-8"), long.read_text(encoding="utf-8")) == ("new", "new")


@pytest.mark.parametrize("name", ["no/such/folder.txt", "null\x00byte.txt", "n" * 300, "round.txt", "."])
def test_where_nothing_can_be_written_is_told(tmp_path: Path, name: str) -> None:
    (tmp_path / "round.txt").symlink_to(tmp_path / "round.txt")
    with pytest.raises(DataError, match="cannot be written") as told:
        write_whole(tmp_path / name, "x")
    assert told.value.where
    assert told.value.hint
    assert str(tmp_path) not in told.value.where


def test_a_full_disk_is_told_and_a_device_stays_a_device() -> None:
    with pytest.raises(DataError, match="No space left"):
        write_whole(Path("/dev/full"), "x")
    assert Path("/dev/full").is_char_device()
    write_whole(Path("/dev/null"), "x")
    assert Path("/dev/null").is_char_device()


def test_a_file_that_grows_too_large_leaves_the_old_one(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    write_whole(path, "old")
    run = start(f"resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000)); write_whole(Path(sys.argv[1]), 'x' * {LARGE})", str(path))
    assert "The file cannot be written: File too large." in run.communicate(timeout=120)[1]
    assert path.read_text(encoding="utf-8") == "old"
    assert [each.name for each in tmp_path.iterdir()] == ["a.txt"]


def test_a_folder_that_may_not_be_written_to_is_told() -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.txt"
        path.write_text("old", encoding="utf-8")
        Path(folder).chmod(0o555)
        run = start(f"os.geteuid() == 0 and os.setuid({NOBODY}); write_whole(Path(sys.argv[1]), 'new')", str(path))
        assert "The file cannot be written: Permission denied." in run.communicate(timeout=120)[1]
        Path(folder).chmod(0o755)
        assert path.read_text(encoding="utf-8") == "old"


def is_whole(path: Path) -> bool:
    """Whether a file is one letter from its first to its last place, and as long as it was written."""
    data = path.read_bytes()
    return len(data) == LARGE and data == data[:1] * LARGE


def test_two_runs_that_write_one_file_leave_the_work_of_one(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    write_whole(path, "o" * LARGE)
    again = f"for _ in range(15): write_whole(Path(sys.argv[1]), sys.argv[2] * {LARGE})"
    runs = [start(again, str(path), letter) for letter in "ab"]
    while any(run.poll() is None for run in runs):
        assert is_whole(path)
    assert [run.communicate()[1] for run in runs] == ["", ""]
    assert path.read_bytes()[:1] in {b"a", b"b"}
    assert [each.name for each in tmp_path.iterdir()] == ["a.txt"]


def test_a_run_that_is_killed_leaves_the_old_file_or_the_new_one(tmp_path: Path) -> None:
    path, random = tmp_path / "a.txt", Random(7)
    write_whole(path, "o" * LARGE)
    for _ in range(5):
        run = start(f"print(flush=True)\nwhile True: write_whole(Path(sys.argv[1]), 'n' * {LARGE})", str(path))
        assert run.stdout is not None
        run.stdout.readline()
        time.sleep(random.random() / 20)
        os.kill(run.pid, signal.SIGKILL)
        run.communicate()
        assert is_whole(path)
    write_whole(path, "x" * LARGE)
    assert path.read_bytes()[:1] == b"x"


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    assert folder_at(tmp_path / "a" / "b").is_dir()
    with pytest.raises(DataError, match="folder cannot be made") as told:
        folder_at(tmp_path / "file")
    assert told.value.hint
