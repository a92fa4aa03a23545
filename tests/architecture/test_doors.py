"""Commands come in by one door: at run time they import the office, answers and core, and nothing below."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_commands_import_the_office_and_nothing_below() -> None:
    run = [sys.executable, "-c", "from importlinter.cli import lint_imports_command; lint_imports_command()"]
    done = subprocess.run([*run, "--no-cache", "doors.toml"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout
    assert "1 kept, 0 broken" in done.stdout
