"""Running the command line in the test's own process."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.running import Run, marram


@pytest.fixture
def called() -> Run:
    """Runs a command and gives its exit code, what it printed and what it complained of."""

    def run_it(*words: str) -> tuple[int, str, str]:
        done = marram(*words, cwd=Path.cwd())
        return done.returncode, done.stdout, done.stderr

    return run_it
