"""The desk as its command starts it, and the Chromium that its pages are looked at with."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

CHROMIUM = "/usr/bin/chromium"
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
_LONGEST_STOP_S = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class StartedDesk:
    """A desk that runs.

    Attributes:
        process: Its process.
        address: The address that it printed, with the start token.
    """

    process: subprocess.Popen[str]
    address: str

    @property
    def origin(self) -> str:
        """The address without path and token."""
        return self.address.partition("/?")[0]

    def stop(self) -> str:
        """Stop it, and give what else it printed; a desk that does not end well is a fault."""
        self.process.terminate()
        told, _ = self.process.communicate(timeout=_LONGEST_STOP_S)
        assert self.process.returncode == 0, told
        return told


def start_desk(folder: Path) -> StartedDesk:
    """Start the desk on a folder; whoever starts it stops it."""
    command = [
        sys.executable,
        "-c",
        "from marram.cli.main import main; main()",
        "desk",
        "--no-open",
        "--port",
        "0",
        "--folder",
        str(folder),
    ]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    return StartedDesk(process=process, address=process.stdout.readline().split()[-1])


@contextmanager
def running_desk(folder: Path) -> Iterator[StartedDesk]:
    """The desk on a folder, stopped when it is no longer wanted."""
    desk = start_desk(folder)
    try:
        yield desk
    finally:
        if desk.process.poll() is None:
            desk.stop()
