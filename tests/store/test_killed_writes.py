"""No row that a writer was told is kept is lost when the writer is killed."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LEAST_TOLD = 100
"""Writers must have been told of something, or nothing was proved."""


def killed(store: Path, times: int) -> int:
    command = [sys.executable, "-m", "tests.support.killed_writes", str(store), str(times), "4711"]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    found = re.fullmatch(r"(\d+) killed, (\d+) told of\n", done.stdout)
    assert found is not None and int(found[1]) == times
    return int(found[2])


def test_no_acknowledged_row_is_lost_in_two_hundred_killings(tmp_path: Path) -> None:
    assert killed(tmp_path / "store.sqlite", 200) >= LEAST_TOLD


@pytest.mark.long
def test_no_acknowledged_row_is_lost_in_a_thousand_killings(tmp_path: Path) -> None:
    assert killed(tmp_path / "store.sqlite", 1000) >= LEAST_TOLD
