"""What was collected on dropping, and what the rule data holds."""

from __future__ import annotations

from pathlib import Path
from typing import TypeAlias

from marram.rulebook.values import Value
from tests.support.relief_words import BOOKS, CATALOGUE
from tests.support.yaml_text import read_yaml

Fact: TypeAlias = "str | int | bool | list[Fact] | dict[str, Fact]"
_FILE = Path(__file__).resolve().parents[1] / "published" / "rules" / "drop_procedure.yaml"
_ROWS = read_yaml(_FILE.read_text(encoding="utf-8"))["drop_procedure"]
CELLS: dict[tuple[str, str], dict[str, Fact]] = {(row["id"], edition): row[edition] for row in _ROWS for edition in BOOKS if edition in row}
"""What each edition says, by row."""
CHECKED: dict[tuple[str, str], str] = {(row["id"], edition): text for row in _ROWS for edition, text in row["checked"].items()}
"""Where that was seen."""


def held(key: str, edition: str) -> Value | None:
    """A value of the rule data; None where the edition has none."""
    row, _, part = key.rpartition(".")
    return CATALOGUE.rows[row].editions[edition].values.get(part)
