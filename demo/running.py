"""Running a command of Marram from the demo."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
OUT = ROOT / "demo" / "out"


def marram(words: list[str], codes: tuple[int, ...] = (0,)) -> str:
    """What a command prints; the demo ends with its message where it fails."""
    run = [sys.executable, "-c", "from marram.cli.main import main; main()", *words]
    done = subprocess.run(run, cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode not in codes:
        raise SystemExit(f"marram {' '.join(words)}\n{done.stdout}{done.stderr}")
    return done.stdout
