"""The page on using Marram from Python: every line is run, and every name that is offered can be loaded."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

import marram

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "how-to" / "from-python.md"


@pytest.fixture(scope="module")
def names() -> dict[str, object]:
    """What the page leaves behind, its blocks run one after another from the folder of the repository."""
    blocks = re.findall(r"```python\n(.*?)```", PAGE.read_text(encoding="utf-8"), flags=re.DOTALL)
    assert len(blocks) >= 5
    found: dict[str, object] = {}
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(ROOT)
        for block in blocks:
            exec(compile(block, str(PAGE), "exec"), found)  # noqa: S102 - the page is ours
    return found


def test_the_page_rules_draws_and_weighs(names: dict[str, object]) -> None:
    ruling = names["ruling"]
    assert isinstance(ruling, marram.Ruling)
    assert {option.penalty_strokes for option in ruling.options} == {1}
    assert str(names["svg"]).startswith("<svg")
    assert names["svg"] != names["for_paper"]
    assert names["questions"] is not None
    assert "deflect-own-equipment" in str(names["names"]) or names["names"]


def test_late_and_found_in_time_differ(names: dict[str, object]) -> None:
    book = names["book"]
    assert isinstance(book, marram.Book)
    assert marram.search("start@0:00,found@2:50", book) != names["late"]


def test_every_name_can_be_loaded_and_stands_on_the_list() -> None:
    offered = [name for name in marram.__all__ if name != "__version__"]
    assert 25 <= len(offered) <= 35
    assert all(getattr(marram, name) is not None for name in offered)
    assert set(offered) <= set(dir(marram))
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        _ = marram.nothing


def test_importing_the_package_loads_nothing_heavy() -> None:
    code = "import sys, marram; print(sorted({'shapely', 'numpy', 'msgspec', 'click'} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
