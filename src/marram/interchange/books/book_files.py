"""Rule books by name: an edition, and overlays on top, joined by a plus: files, or overlays that come with Marram.

Books of play and books of handicapping stand on shelves of their own, each with its rule data and the overlays that come with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from marram.core.errors import RuleDataError
from marram.interchange.tables.reading import LARGEST_TEXT_BYTES, read_text
from marram.rulebook.book import Book, know_each_other, open_book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.overlays.overlay import Overlay, read_overlay
from marram.rulebook.reading.files import packaged_catalogue, packaged_handicapping
from marram.rulebook.values import nearest_names

_ENDING = ".toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """Where books of one kind stand.

    Attributes:
        catalogue: Gives their rule data.
        folder: The folder of overlays that come with it.
        called: What one of these is called.
        listing: What is said of where they are listed.
    """

    catalogue: Callable[[], Catalogue]
    folder: str
    called: str
    listing: str


_PLAY = Shelf(catalogue=packaged_catalogue, folder="local_rules", called="local rule", listing="`list_local_rules()` shows them.")
_HANDICAPS = Shelf(
    catalogue=packaged_handicapping,
    folder="handicapping_variants",
    called="variant of handicapping",
    listing="docs/how-to/handicaps.md lists them.",
)


def read_book(name: str, shelf: Shelf = _PLAY) -> Book:
    """Open a rule book.

    Args:
        name: An edition, or an edition with overlays, such as ``2023+trial.toml`` or ``2023+preferred-lies``.
        shelf: Where it stands.

    Raises:
        RuleDataError: An edition is not known, or an overlay cannot be used.
        StaleOverlay: An overlay does not fit what it lies on.
        OverlayConflict: Two overlays change one key without a stated order.
    """
    edition, *names = parts_of_book(name)
    catalogue = shelf.catalogue()
    catalogue.find_edition(edition)
    overlays = list[Overlay]()
    for overlay in names:
        overlays.append(overlay_of(overlay, catalogue, shelf))
        catalogue = overlays[-1].laid_in(catalogue)
    return open_book(edition, overlays, shelf.catalogue())


def parts_of_book(name: str) -> list[str]:
    """The edition and the overlays that a book's name is made of; a file whose own path holds a plus sign is one of them.

    Args:
        name: An edition, or an edition with overlays.
    """
    words = name.split("+")
    parts = words[:1]
    first = 1
    while first < len(words):
        ends = range(len(words), first, -1)
        last = next((end for end in ends if end > first + 1 and _is_file("+".join(words[first:end]))), first + 1)
        parts.append("+".join(words[first:last]))
        first = last
    return parts


def _is_file(name: str) -> bool:
    try:
        return Path(name).is_file()
    except (OSError, ValueError):
        return False


def read_handicap_book(name: str) -> Book:
    """Open a book of handicapping.

    Args:
        name: An edition of the Rules of Handicapping, or one with variants, such as ``2024+half-index-to-a-tenth``.

    Raises:
        RuleDataError: An edition is not known, or a variant cannot be used.
    """
    return read_book(name, _HANDICAPS)


def read_books(names: Iterable[str]) -> tuple[Book, ...]:
    """Open rule books that are asked together: each says of a row that a trial in another one adds that it is not in this book.

    Raises:
        RuleDataError: A book cannot be used.
    """
    books = tuple(read_book(name) for name in names)
    return know_each_other(books) if books else ()


def local_rules() -> tuple[Overlay, ...]:
    """The local rules that come with Marram, by name."""
    return tuple(_packaged(name, _PLAY) for name in _packaged_names(_PLAY))


def overlay_of(name: str, catalogue: Catalogue | None = None, shelf: Shelf = _PLAY) -> Overlay:
    """An overlay by the name of a local rule that comes with Marram, or from a file.

    Args:
        name: The local rule, or the file.
        catalogue: The rule data that it lies on; None for the rule data as it comes.
        shelf: Where the books stand that it is for.

    Raises:
        RuleDataError: There is none, or it cannot be used.
    """
    if name in _packaged_names(shelf):
        return _packaged(name, shelf)
    path = Path(name)
    if path.suffix != _ENDING and not path.exists():
        near = nearest_names(name, _packaged_names(shelf))
        hint = f"Nearest: {', '.join(near)}." if near else shelf.listing
        raise RuleDataError(
            f"There is no {shelf.called} {name!r}.", where=name, hint=f"{hint} A trial is named by its file, ending in {_ENDING}."
        )
    text = read_text(path, what="an overlay", largest_bytes=LARGEST_TEXT_BYTES, error=RuleDataError)
    return read_overlay(text, name=path.stem, catalogue=catalogue or shelf.catalogue())


def _packaged_names(shelf: Shelf) -> list[str]:
    folder = resources.files("marram.rulebook").joinpath(shelf.folder)
    return sorted(file.name.removesuffix(_ENDING) for file in folder.iterdir() if file.name.endswith(_ENDING))


def _packaged(name: str, shelf: Shelf) -> Overlay:
    text = resources.files("marram.rulebook").joinpath(shelf.folder, name + _ENDING).read_text(encoding="utf-8")
    return read_overlay(text, name=name, catalogue=shelf.catalogue())
