"""Running the command line in the test's own process: the same door as a process of its own, without a new interpreter each time.

A handful of tests start a true process all the same; they prove that the entry works from outside.
"""

from __future__ import annotations

import io
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import chdir, contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from marram.cli.main import main
from marram.core.errors import OwnFault
from tests.support.published_shapes import check_printed

Run: TypeAlias = "Callable[..., tuple[int, str, str]]"
"""Takes the words of a command; gives its exit code, what it printed and what it complained of."""
ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True, slots=True)
class Done:
    """How a command ended.

    Attributes:
        returncode: Its exit code.
        stdout: What it printed.
        stderr: What it complained of.
    """

    returncode: int
    stdout: str
    stderr: str


def marram(*words: str | Path, cwd: Path = ROOT) -> Done:
    """Run a command here. A fault of the program fails the test.

    Args:
        words: The words after `marram`.
        cwd: The folder that it runs in.
    """
    out, err = _Stream(), _Stream()
    with _called_with(words), chdir(cwd), redirect_stdout(out), redirect_stderr(err):
        try:
            main()
            code = 0
        except SystemExit as end:
            code = int(end.code or 0)
    assert code != OwnFault.exit_code, err.told()
    done = Done(code, out.told(), err.told())
    check_printed([*map(str, words)], done.stdout)
    return done


def marram_process(*words: str | Path, cwd: Path = ROOT) -> Done:
    """Run a command in a process of its own, as a shell does."""
    run = [sys.executable, "-c", "from marram.cli.main import main; main()", *map(str, words)]
    done = subprocess.run(run, cwd=cwd, capture_output=True, text=True, check=False)
    return Done(done.returncode, done.stdout, done.stderr)


class _Stream(io.TextIOWrapper):
    """What a command writes to, as text or as bytes."""

    def __init__(self) -> None:
        super().__init__(io.BytesIO(), encoding="utf-8", newline="\n", write_through=True)

    def told(self) -> str:
        """All that was written."""
        self.flush()
        held = self.buffer
        assert isinstance(held, io.BytesIO)
        return held.getvalue().decode("utf-8")


@contextmanager
def _called_with(words: tuple[str | Path, ...]) -> Iterator[None]:
    before = sys.argv
    sys.argv = ["marram", *map(str, words)]
    try:
        yield
    finally:
        sys.argv = before
