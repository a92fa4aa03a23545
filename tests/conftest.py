"""Settings that every test shares, and the lines that some print at the end."""

import os
from collections.abc import Callable

import pytest
from hypothesis import settings

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


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print the lines that tests left for the end."""
    for line in terminalreporter.config.stash.get(LINES, []):
        terminalreporter.write_line(line)
