"""The pages on what differs between two editions are what the command writes today."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from marram.cli.book.command import book

PAGES = sorted((Path(__file__).resolve().parents[2] / "docs" / "editions").glob("*-to-*.md"))


def test_there_is_a_page() -> None:
    assert PAGES


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_writing_the_page_again_gives_the_same_bytes(page: Path, tmp_path: Path) -> None:
    first, _, second = page.stem.partition("-to-")
    again = tmp_path / page.name
    done = CliRunner().invoke(book, ["compare", first, second, "--form", "md", "-o", str(again)])
    assert done.exit_code == 0, done.output
    assert again.read_bytes() == page.read_bytes(), (
        f"write it again: marram book compare {first} {second} --form md -o docs/editions/{page.name}"
    )
