"""Where cells of the rule data were seen, against what readers of published texts found: each source named, and nothing else called seen.

Source: provenance.yaml beside this file, in which each cell names the title, edition and page, and how much of the cell was read there.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.citations import INFERRED, SEEN, provenance_class, split_seen
from marram.rulebook import packaged_catalogue
from tests.support.yaml_text import read_yaml

CELLS = read_yaml((Path(__file__).parent / "provenance.yaml").read_text(encoding="utf-8"))["cells"]
READ = [cell for cell in CELLS if cell["extent"] != "number-only"]


def seen(cell: dict[str, object]) -> list[str]:
    """What the rule data names as seen: for the whole cell, or for each of the parts that were read."""
    held = packaged_catalogue().rows[str(cell["row"])].editions[str(cell["edition"])]
    assert held.citation is not None
    parts = cell.get("parts")
    return [held.seen_of.get(part, held.citation.seen) for part in parts] if isinstance(parts, list) else [held.citation.seen]


@pytest.mark.parametrize("cell", READ, ids=[f"{cell['row']}-{cell['edition']}" for cell in READ])
def test_the_rule_data_names_each_source_that_was_read(cell: dict[str, object]) -> None:
    titles, by_class = cell["source"], cell["extent"] == "by-class"
    assert isinstance(titles, list)
    for text in seen(cell):
        assert set(titles) <= set(split_seen(text))
        assert provenance_class(text) == (INFERRED if by_class else SEEN)


def test_how_much_was_read() -> None:
    """378 cells with a source that agrees; of nine of them only the number fits."""
    assert (len(CELLS), len(READ)) == (378, 369)
    assert len({(cell["row"], cell["edition"]) for cell in CELLS}) == 378
