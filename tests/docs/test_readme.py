"""The terminal runs in the README are real: each command is run and its output compared."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
RUNS = re.findall(r"```\n\$ marram (.*?)\n(.*?)```", README, flags=re.DOTALL)


def test_readme_holds_a_terminal_run() -> None:
    assert RUNS


@pytest.mark.parametrize(("command", "shown"), RUNS)
def test_terminal_run_is_real(command: str, shown: str) -> None:
    run = [sys.executable, "-c", "from marram.cli.main import main; main()", *shlex.split(command)]
    done = subprocess.run(run, cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == shown.strip()
