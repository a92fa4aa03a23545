"""The recipes are true as far as a test can tell: every path that they name is there, and each is found from the list."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.support.recipes import writings

ROOT = Path(__file__).resolve().parents[2]
PAGES = [*sorted((ROOT / "docs" / "recipes").glob("*.md")), ROOT / "docs" / "glossary.md", ROOT / "CONTRIBUTING.md"]
_PATH = re.compile(r"`((?:src|docs|tests|examples|benchmarks|builders|scripts)/[\w./-]+)`")
_MADE = {
    "tests/editions/2027/",
    "builders/mutants/found/",
    *(file for page in PAGES if page.parent.name == "recipes" for file, _ in writings(page.name)),
}
"""Places that a recipe says to make, or that a run makes."""


def paths_of(page: Path) -> list[str]:
    return _PATH.findall(page.read_text(encoding="utf-8"))


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_path_that_it_names_is_there(page: Path) -> None:
    paths = paths_of(page)
    assert paths, "no path was found: the check would pass without looking at anything"
    assert [path for path in paths if path not in _MADE and not (ROOT / path).exists()] == []


def test_each_recipe_is_named_in_the_list_of_contributing() -> None:
    named = paths_of(ROOT / "CONTRIBUTING.md")
    recipes = {f"docs/recipes/{page.name}" for page in (ROOT / "docs" / "recipes").glob("*.md")}
    assert len(recipes) == 6
    assert recipes <= set(named)
