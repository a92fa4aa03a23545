"""Running the command line in the test's own process."""

from __future__ import annotations

import pytest

from marram.cli.main import main
from tests.support.running import Run


@pytest.fixture
def called(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs a command and gives its exit code, what it printed and what it complained of."""

    def run_it(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr("sys.argv", ["marram", *words])
        try:
            main()
            code = 0
        except SystemExit as end:
            code = int(end.code or 0)
        told = capsys.readouterr()
        return code, told.out, told.err

    return run_it
