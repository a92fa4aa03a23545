"""Rule books by name: an edition, and overlays on top, joined by a plus: files, or the local rules that come with Marram."""

from __future__ import annotations

from collections.abc import Iterable
from importlib import resources
from pathlib import Path

from marram.core.errors import RuleDataError
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.rulebook.book import Book, know_each_other, open_book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.overlays.overlay import Overlay, read_overlay
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.values import nearest_names

_ENDING = ".toml"


def read_book(name: str) -> Book:
    """Open a rule book.

    Args:
        name: An edition, or an edition with overlays, such as ``2023+trial.toml`` or ``2023+preferred-lies``.

    Raises:
        RuleDataError: An edition is not known, or an overlay cannot be used.
        StaleOverlay: An overlay does not fit what it lies on.
        OverlayConflict: Two overlays change one key without a stated order.
    """
    edition, *names = name.split("+")
    catalogue = packaged_catalogue()
    catalogue.find_edition(edition)
    overlays = list[Overlay]()
    for overlay in names:
        overlays.append(overlay_of(overlay, catalogue))
        catalogue = overlays[-1].laid_in(catalogue)
    return open_book(edition, overlays, packaged_catalogue())


def read_books(names: Iterable[str]) -> tuple[Book, ...]:
    """Open rule books that are asked together: each says of a row that a trial in another one adds that it is not in this book.

    Raises:
        RuleDataError: A book cannot be used.
    """
    books = tuple(read_book(name) for name in names)
    return know_each_other(books) if books else ()


def local_rules() -> tuple[Overlay, ...]:
    """The local rules that come with Marram, by name."""
    return tuple(_packaged(name) for name in _packaged_names())


def overlay_of(name: str, catalogue: Catalogue | None = None) -> Overlay:
    """An overlay by the name of a local rule that comes with Marram, or from a file.

    Args:
        name: The local rule, or the file.
        catalogue: The rule data that it lies on; None for the rule data as it comes.

    Raises:
        RuleDataError: There is none, or it cannot be used.
    """
    if name in _packaged_names():
        return _packaged(name)
    path = Path(name)
    if path.suffix != _ENDING and not path.exists():
        near = nearest_names(name, _packaged_names())
        hint = f"Nearest: {', '.join(near)}." if near else "`list_local_rules()` shows them."
        raise RuleDataError(
            f"There is no local rule {name!r}.", where=name, hint=f"{hint} A trial is named by its file, ending in {_ENDING}."
        )
    text = read_text(path, what="an overlay", largest_bytes=LARGEST_TEXT_BYTES, error=RuleDataError)
    return read_overlay(text, name=path.stem, catalogue=catalogue or packaged_catalogue())


def _packaged_names() -> list[str]:
    folder = resources.files("marram.rulebook").joinpath("local_rules")
    return sorted(file.name.removesuffix(_ENDING) for file in folder.iterdir() if file.name.endswith(_ENDING))


def _packaged(name: str) -> Overlay:
    text = resources.files("marram.rulebook").joinpath("local_rules", name + _ENDING).read_text(encoding="utf-8")
    return read_overlay(text, name=name, catalogue=packaged_catalogue())
