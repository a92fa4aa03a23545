"""Rule books by name: an edition, and overlay files on top, joined by a plus."""

from __future__ import annotations

from pathlib import Path

from marram.core.errors import RuleDataError
from marram.interchange.reading import LARGEST_TEXT_BYTES, read_text
from marram.rulebook.book import Book, open_book
from marram.rulebook.files import packaged_catalogue
from marram.rulebook.overlay import read_overlay


def read_book(name: str) -> Book:
    """Open a rule book.

    Args:
        name: An edition, or an edition and overlay files, such as ``2023+trial.toml``.

    Raises:
        RuleDataError: An edition is not known, or an overlay cannot be used.
        StaleOverlay: An overlay does not fit what it lies on.
        OverlayConflict: Two overlays change one key without a stated order.
    """
    catalogue = packaged_catalogue()
    edition, *files = name.split("+")
    catalogue.find_edition(edition)
    overlays = []
    for file in files:
        path = Path(file)
        text = read_text(path, what="an overlay", largest_bytes=LARGEST_TEXT_BYTES, error=RuleDataError)
        overlays.append(read_overlay(text, name=path.stem, catalogue=catalogue))
    return open_book(edition, overlays, catalogue)
