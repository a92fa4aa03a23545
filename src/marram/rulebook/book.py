"""The rule book: one edition with any overlays on top, frozen, with typed look-ups that carry their citations."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, wraps
from typing import TypeVar, cast

from marram.core.citations import Citation, Cited, merged
from marram.core.errors import OverlayConflict, RuleDataError, StaleOverlay
from marram.core.units import Size
from marram.core.words import spaced
from marram.rulebook.catalogue import Catalogue, EditionRow
from marram.rulebook.consequences import Cases
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.values import Absent, SizeOf, Value, cases_of, json_member, value_words

T = TypeVar("T")


def _once(look_up: Callable[[Book, str], T]) -> Callable[[Book, str], T]:
    """A look-up that is made once for each key; a key that is refused is refused again."""

    @wraps(look_up)
    def found(book: Book, key: str) -> T:
        asked = (look_up.__name__, key)
        if asked not in book._looked_up:
            book._looked_up[asked] = look_up(book, key)
        return cast(T, book._looked_up[asked])

    return found


@dataclass(frozen=True)
class Book:
    """One edition with its overlays.

    Attributes:
        edition: Name of the edition.
        catalogue: The rule data.
        overlays: What lies on top, lowest first.
        changed: The change in force for each changed key, with its overlay.
    """

    edition: str
    catalogue: Catalogue
    overlays: tuple[Overlay, ...]
    changed: Mapping[str, tuple[Overlay, Change]]
    _looked_up: dict[tuple[str, str], object] = field(default_factory=dict, init=False, compare=False, repr=False)
    """What was looked up so far: no more than the rule data has keys. A book never changes, and a changed copy of it begins anew."""

    @property
    def name(self) -> str:
        """The edition and the short names of its overlays, joined by a plus."""
        return "+".join([self.edition, *(overlay.name for overlay in self.overlays)])

    @property
    def sign(self) -> str:
        """The words that stand for the book on a drawing, where letters stand for options: its last overlay, else its edition."""
        return spaced(self.overlays[-1].name) if self.overlays else self.catalogue.editions[self.edition].short

    @property
    def short_title(self) -> str:
        """The edition and its overlays in a few words."""
        return " + ".join([self.catalogue.editions[self.edition].short, *(spaced(overlay.name) for overlay in self.overlays)])

    @property
    def is_in_force(self) -> bool:
        """Whether this is a published edition with nothing laid over it."""
        return not self.overlays and not self.catalogue.editions[self.edition].is_draft

    @property
    def title(self) -> str:
        """The published document and the titles of the overlays."""
        document = self.catalogue.editions[self.edition].document
        return ", with ".join([document, *(overlay.title for overlay in self.overlays)])

    @cached_property
    def stamp(self) -> str:
        """Short digest of every value of the book; what is decided under the book carries it."""
        changed = {key: json_member(key, change.now) for key, (_, change) in self.changed.items()}
        values = {**self.catalogue.json_members(self.edition), **changed}
        overlays = json.dumps([[overlay.title, overlay.dated.isoformat()] for overlay in self.overlays], separators=(",", ":"))
        listed = ",".join(values[key] for key in sorted(values))
        text = f'{{"edition":{json.dumps(self.edition)},"overlays":{overlays},"values":{{{listed}}}}}'
        digest = hashlib.sha256(text.encode()).hexdigest()
        return f"{digest[:4]} {digest[4:8]}"

    def _cell(self, row_id: str) -> EditionRow:
        row = self.catalogue.rows.get(row_id)
        if row is None:
            raise RuleDataError("There is no such row in the rule data.", where=row_id)
        return row.editions[self.edition]

    @_once
    def has_row(self, row_id: str) -> bool:
        """Whether this book has the row at all: in its edition and not taken away whole, or put there by an overlay."""
        cell = self._cell(row_id)
        if row_id not in self._changed_rows:
            return not cell.absent
        return any(self.has(f"{row_id}.{part}") for part in self.catalogue.rows[row_id].parts)

    @cached_property
    def tests(self) -> Mapping[str, str]:
        """The row of the book's own test of each fact that it has one for."""
        rows = [row.id for row in self.catalogue.rows.values() if "all_of" in row.parts and self.has_row(row.id)]
        return {self.word(f"{row}.fact").value: row for row in reversed(rows)}

    @cached_property
    def _changed_rows(self) -> frozenset[str]:
        return frozenset(key.rpartition(".")[0] for key in self.changed)

    def why_absent(self, row_id: str) -> str:
        """Why the book has no such row; empty where it has one."""
        if self.has_row(row_id):
            return ""
        return self._cell(row_id).absent or f"taken away by {self.overlays[-1].name}"

    @_once
    def has(self, key: str) -> bool:
        """Whether this book holds a value for the key."""
        row, spec = self.catalogue.find_key(key)
        if key in self.changed:
            return not isinstance(self.changed[key][1].now, Absent)
        return spec.name in row.editions[self.edition].values

    @_once
    def cited(self, key: str) -> Cited[Value]:
        """The value of a key with the rule behind it.

        Raises:
            RuleDataError: There is no such key, or the book has no value for it.
        """
        row, spec = self.catalogue.find_key(key)
        if key in self.changed:
            overlay, change = self.changed[key]
            if isinstance(change.now, Absent):
                raise RuleDataError(f"The book {self.name} has no value here: {overlay.name} takes it away.", where=key)
            return Cited(value=change.now, citations=(self._overlay_citation(row.id, overlay, change),))
        cell = row.editions[self.edition]
        if spec.name not in cell.values or cell.citation is None:
            why = cell.absent or cell.without.get(spec.name, "no value is given")
            raise RuleDataError(f"The book {self.name} has no value here: {why}.", where=key)
        seen = cell.seen_of.get(spec.name)
        return Cited(
            value=cell.values[spec.name],
            citations=(self.catalogue.sources.seen_in(cell.citation, seen) if seen else cell.citation,),
        )

    def _overlay_citation(self, row_id: str, overlay: Overlay, change: Change) -> Citation:
        base = self._cell(row_id).citation
        return Citation(
            document=overlay.title,
            edition=self.edition,
            rule=f"change {change.number}" + (f" to {base.rule}" if base else ""),
            overlay=overlay.title,
            seen=overlay.title,
        )

    @_once
    def citations(self, row_id: str) -> tuple[Citation, ...]:
        """The rule of a row, and any overlay that changes one of its parts."""
        cell = self._cell(row_id)
        own = (cell.citation,) if cell.citation else ()
        laid_over = tuple(
            self._overlay_citation(row_id, overlay, change)
            for key, (overlay, change) in self.changed.items()
            if key.rpartition(".")[0] == row_id
        )
        return merged(own, laid_over)

    def changes_of(self, keys: Iterable[str]) -> tuple[Citation, ...]:
        """What overlays say of some keys; nothing of those that stand as the edition has them."""
        changed = [(key.rpartition(".")[0], *self.changed[key]) for key in sorted(keys) if key in self.changed]
        return merged(*((self._overlay_citation(*entry),) for entry in changed))

    def number(self, key: str) -> Cited[float]:
        """A number; its unit stands in the rule data."""
        found = self.cited(key)
        if isinstance(found.value, bool) or not isinstance(found.value, int | float):
            raise self._wrong_type(key, "a number")
        return Cited(value=float(found.value), citations=found.citations)

    @_once
    def yes(self, key: str) -> Cited[bool]:
        """A yes or no."""
        found = self.cited(key)
        if not isinstance(found.value, bool):
            raise self._wrong_type(key, "a yes or no")
        return Cited(value=found.value, citations=found.citations)

    @_once
    def word(self, key: str) -> Cited[str]:
        """A word of a closed list, a display term or a remark."""
        found = self.cited(key)
        if not isinstance(found.value, str):
            raise self._wrong_type(key, "a word")
        return Cited(value=found.value, citations=found.citations)

    @_once
    def words(self, key: str) -> Cited[tuple[str, ...]]:
        """A list of words."""
        found = self.cited(key)
        if not isinstance(found.value, tuple) or cases_of(found.value):
            raise self._wrong_type(key, "a list of words")
        return Cited(value=tuple(word for word in found.value if isinstance(word, str)), citations=found.citations)

    @_once
    def cases(self, key: str) -> Cited[Cases]:
        """What an act leads to, case by case."""
        found = self.cited(key)
        cases = cases_of(found.value)
        if not cases:
            raise self._wrong_type(key, "a list of cases")
        return Cited(value=cases, citations=found.citations)

    @_once
    def size(self, key: str) -> Cited[Size]:
        """A size; where it is the size of another key, that key's, under the citations of both."""
        found = self.cited(key)
        passed = [key]
        while isinstance(found.value, SizeOf):
            if found.value.key in passed:
                raise RuleDataError("The sizes point at each other in a ring.", where=" → ".join(passed))
            passed.append(found.value.key)
            target = self.cited(found.value.key)
            found = Cited(value=target.value, citations=merged(found.citations, target.citations))
        if not isinstance(found.value, Size):
            raise self._wrong_type(key, "a size")
        return Cited(value=found.value, citations=found.citations)

    def _wrong_type(self, key: str, expected: str) -> RuleDataError:
        return RuleDataError(f"{expected} was asked for, and the rule data holds something else.", where=key)


def open_book(edition: str, overlays: Sequence[Overlay], catalogue: Catalogue) -> Book:
    """Lay overlays on an edition.

    Args:
        edition: Name of the edition.
        overlays: The overlays, lowest first.
        catalogue: The rule data.

    Raises:
        RuleDataError: The edition is not known, or an overlay is not written for it.
        StaleOverlay: The base does not hold what an overlay says that it was.
        OverlayConflict: Two overlays change one key and the later does not say that it comes after the other.
    """
    catalogue.find_edition(edition)
    book = Book(edition=edition, catalogue=catalogue, overlays=(), changed={})
    for overlay in overlays:
        book = _laid_on(book, overlay)
    return book


def know_each_other(books: Sequence[Book]) -> tuple[Book, ...]:
    """The same books, each aware of the rows that trials in the others add: where it has none of them, it says so."""
    catalogue = books[0].catalogue
    for book in books:
        catalogue = catalogue.with_added_of(book.catalogue)
    if not catalogue.has_added:
        return tuple(books)
    knowing = [book.catalogue.with_added_of(catalogue) for book in books]
    return tuple(book if known is book.catalogue else replace(book, catalogue=known) for book, known in zip(books, knowing, strict=True))


_STALE_HINT = "Correct `was`, or lay the overlay on the edition that it was written for."


def _laid_on(book: Book, overlay: Overlay) -> Book:
    if not book.catalogue.is_for(book.edition, overlay.on):
        written = ", ".join(overlay.on)
        raise RuleDataError(f"It is written for {written}, not for {book.edition}.", where=overlay.name)
    book = replace(book, catalogue=overlay.laid_in(book.catalogue))
    for change in overlay.changes:
        _refuse_conflict(book, overlay, change)
        _refuse_stale(book, overlay, change)
    changed = dict(book.changed) | {part.key: (overlay, part) for change in overlay.changes for part in change.by_key()}
    laid = replace(book, overlays=(*book.overlays, overlay), changed=changed)
    for change in overlay.changes:
        if isinstance(change.now, SizeOf):
            _refuse_lost_size(laid, overlay, change)
    return laid


def _refuse_lost_size(book: Book, overlay: Overlay, change: Change) -> None:
    """A size that is to follow another key must find a size there."""
    try:
        book.size(change.key)
    except RuleDataError as problem:
        where = f"{overlay.name}, change {change.number}, now"
        raise RuleDataError(f"{change.key} cannot follow that key: {problem.message}", where=where, hint=problem.hint) from None


def _refuse_conflict(book: Book, overlay: Overlay, change: Change) -> None:
    if change.key in book.changed:
        earlier = book.changed[change.key][0]
        if earlier.name not in overlay.after:
            raise OverlayConflict(
                f"{earlier.name} and {overlay.name} both change {change.key}.",
                where=f"{overlay.name}, change {change.number}",
                hint=f'Write after = ["{earlier.name}"] in {overlay.name} if it is meant to come on top.',
            )


def _refuse_stale(book: Book, overlay: Overlay, change: Change) -> None:
    where = f"{overlay.name}, change {change.number}, {change.key}"
    if isinstance(change.was, Absent):
        if book.has(change.key):
            there = value_words(book.cited(change.key).value)
            raise StaleOverlay(f"It says that there was no value, but {book.name} holds {there}.", where=where, hint=_STALE_HINT)
        return
    if not book.has(change.key):
        row_id = change.key.rpartition(".")[0]
        why = book.why_absent(row_id) or "the edition has no value here"
        raise StaleOverlay(f"{book.name} has no such value: {why}.", where=where)
    held = book.cited(change.key).value
    resolved = book.size(change.key).value if isinstance(held, SizeOf) else held
    if change.was not in (held, resolved):
        raise StaleOverlay(
            f"It says that the value was {value_words(change.was)}, but {book.name} holds {value_words(resolved)}.",
            where=where,
            hint=_STALE_HINT,
        )
