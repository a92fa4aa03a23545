"""The commands of the how-to pages are run in their order, and the lines that a page shows must come out."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from tests.support.running import ROOT, marram

OF_PYTHON = "from-python.md"
"""Its lines are run by tests/docs/test_from_python.py."""
PAGES = [page for page in sorted((ROOT / "docs" / "how-to").glob("*.md")) if page.name != OF_PYTHON]
_BLOCK = re.compile(r"```\n(\$ marram .*?)```", re.DOTALL)
_MAY_FIND_FAULTS = ("course check", "course marking")


def runs(page: Path) -> list[tuple[str, list[str]]]:
    """Each command of a page with the lines that the page shows of its answer."""
    found: list[tuple[str, list[str]]] = []
    for block in _BLOCK.findall(page.read_text(encoding="utf-8")):
        for line in block.splitlines():
            if line.startswith("$ marram "):
                found.append((line.removeprefix("$ marram "), []))
            elif line.strip():
                found[-1][1].append(line)
    return found


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_command_of_the_page_does_what_it_shows(page: Path, tmp_path: Path) -> None:
    for name in ("examples", "tests"):
        (tmp_path / name).symlink_to(ROOT / name)
    (tmp_path / "out").mkdir()
    commands = runs(page)
    assert commands
    for command, shown in commands:
        done = marram(*shlex.split(command), cwd=tmp_path)
        allowed = {0, 1} if command.startswith(_MAY_FIND_FAULTS) else {0}
        assert done.returncode in allowed, f"marram {command}\n{done.stderr}"
        for line in shown:
            assert line.strip() in done.stdout, f"marram {command} does not say: {line}\n{done.stdout}"
