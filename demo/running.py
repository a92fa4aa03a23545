"""Running a command of Marram from the demo."""

from __future__ import annotations

import io
import sys
from contextlib import chdir, redirect_stderr, redirect_stdout
from pathlib import Path

from marram.cli.main import main

ROOT = Path(__file__).resolve().parents[1]
SHOWN = "demo/out"
"""Where the commands say that they write."""
out = ROOT / "demo" / "out"
"""Where the demo is written; a test writes it elsewhere."""


def marram(words: list[str], codes: tuple[int, ...] = (0,)) -> str:
    """What a command prints; the demo ends with its message where it fails.

    It runs in this process, by the same entry as from a shell: sixty new interpreters would take longer than the work.
    """
    told, complaint = _Stream(), _Stream()
    before, sys.argv = sys.argv, ["marram", *(word.replace(SHOWN, str(out), 1) if word.startswith(SHOWN) else word for word in words)]
    try:
        with chdir(ROOT), redirect_stdout(told), redirect_stderr(complaint):
            main()
        code = 0
    except SystemExit as end:
        code = int(end.code or 0)
    finally:
        sys.argv = before
    if code not in codes:
        raise SystemExit(f"{shown(words)}\n{told.all()}{complaint.all()}")
    return told.all()


def shown(words: list[str]) -> str:
    """A command as it is typed."""
    return f"marram {' '.join(words)}"


class _Stream(io.TextIOWrapper):
    """What a command writes to, as text or as bytes."""

    def __init__(self) -> None:
        super().__init__(io.BytesIO(), encoding="utf-8", newline="\n", write_through=True)

    def all(self) -> str:
        """All that was written."""
        held = self.buffer
        assert isinstance(held, io.BytesIO)
        return held.getvalue().decode("utf-8")
