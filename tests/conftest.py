"""Settings that every test shares, and the lines that some print at the end."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Protocol

import pytest
from hypothesis import settings


class _Process(Protocol):
    """One of several processes that run tests."""

    config: pytest.Config


LINES = pytest.StashKey[list[str]]()

# No deadline: geometry on a busy machine is slow now and then, and that is no fault of the code. In CI the examples are
# the same on each run, so that a change is judged by what it changed; elsewhere each run looks at new ground.
settings.register_profile("marram", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("marram")


@pytest.fixture
def said_at_the_end(request: pytest.FixtureRequest) -> Callable[[str], None]:
    """Prints a line after all tests have run, whatever is captured."""
    lines = request.config.stash.setdefault(LINES, [])
    return lines.append


def pytest_sessionfinish(session: pytest.Session) -> None:
    """A process among several hands its lines to the one that prints."""
    if (output := getattr(session.config, "workeroutput", None)) is not None:
        output["lines"] = session.config.stash.get(LINES, [])


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: _Process) -> None:
    """Take over the lines of a process that has ended."""
    node.config.stash.setdefault(LINES, []).extend(getattr(node, "workeroutput", {}).get("lines", []))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print the lines that tests left for the end."""
    for line in terminalreporter.config.stash.get(LINES, []):
        terminalreporter.write_line(line)
