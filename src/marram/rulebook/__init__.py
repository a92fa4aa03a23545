"""The rules as data: editions side by side, overlays on top, and the frozen book that rulings read."""

from marram.rulebook.book import Book, open_book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.overlays.overlay import Overlay, read_overlay
from marram.rulebook.reading.files import packaged_catalogue, packaged_handicapping

__all__ = ["Book", "Catalogue", "Overlay", "open_book", "packaged_catalogue", "packaged_handicapping", "read_overlay"]
