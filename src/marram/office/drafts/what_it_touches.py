"""What one change touches, in words: the situations, procedures and acts, what stays as it is beside them, and the key that it follows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from marram.core.citations import Citation
from marram.core.errors import RuleDataError
from marram.office.drafts.offered_field import value_said
from marram.office.trials.draft_trial import Touched, touched_by
from marram.rulebook.book import Book
from marram.rulebook.differences.change_heading import change_heading, relief_title
from marram.rulebook.differences.told_change import first_sentence
from marram.rulebook.overlays.overlay import Change, Overlay, read_members
from marram.rulebook.values import ABSENT, PartType, SizeOf, Value, plain_value

_MOST_LEFT = 4
_DRAFT = "trial"


@dataclass(frozen=True, slots=True, kw_only=True)
class TouchedLine:
    """Something that a change touches, in words, with its rules."""

    words: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftAsItIs:
    """Something like it that the change leaves as it is.

    Attributes:
        words: What it is.
        says: What it holds still.
        key: The key that would change it too.
        citations: Its rules.
    """

    words: str
    says: str
    key: str
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Touches:
    """What one change touches.

    Attributes:
        heading: The change in one breath.
        before: What the book says.
        now: What it says with the change.
        situations: Situations in which it may come up.
        procedures: Relief procedures that it alters.
        acts: Acts that it alters.
        left: What is like it and stays as it is.
        follows: The key whose value this one follows; empty where it states its own.
        procedure_names: Names of the procedures' rows, without their family.
        situation_names: Names of the situations.
    """

    heading: str
    before: str
    now: str
    situations: tuple[TouchedLine, ...]
    procedures: tuple[TouchedLine, ...]
    acts: tuple[TouchedLine, ...]
    left: tuple[LeftAsItIs, ...]
    follows: str
    procedure_names: tuple[str, ...]
    situation_names: tuple[str, ...]


def one_change(book: Book, members: Mapping[str, object]) -> Change:
    """A change by itself, for looking at what it does: on what the book holds now, whatever it said that the book held.

    Args:
        book: The book.
        members: What the change says, as its file has it; only its value, or what it adds, is read.

    Raises:
        RuleDataError: It cannot be read.
    """
    told = {name: members[name] for name in ("key", "now", "add", "conditions") if name in members}
    if key := str(told.get("key", "")):
        told["was"] = plain_value(book.cited(key).value if key in book.catalogue.keys and book.has(key) else ABSENT)
    raw = {"title": _DRAFT, "dated": date.min, "on": [book.edition], "change": [{**told, "because": "-"}]}
    trial, faults = read_members(raw, name=_DRAFT, catalogue=book.catalogue)
    if faults or not trial.changes:
        raise RuleDataError(" ".join(faults) or "Nothing can be read of it.", where=_DRAFT)
    return trial.changes[0]


def trial_of(book: Book, change: Change, name: str = _DRAFT) -> Overlay:
    """A trial of one change, for looking at what it does."""
    return Overlay(name=name, title=name, dated=date.min, on=(book.edition,), after=(), changes=(change,))


def touches_of(book: Book, change: Change) -> Touches:
    """What a change touches.

    Args:
        book: The book.
        change: The change.

    Raises:
        RuleDataError: The book does not hold what the change says that it holds.
    """
    trial = trial_of(book, change)
    catalogue = trial.laid_in(book.catalogue)
    (touched,) = touched_by(trial, book)
    return Touches(
        heading=change_heading(book, change),
        before=touched.told.before,
        now=touched.told.now,
        situations=tuple(_line(book, catalogue.rows, f"situation.{name}") for name in touched.situations),
        procedures=tuple(_line(book, catalogue.rows, f"relief.{name}") for name in touched.procedures),
        acts=tuple(_line(book, catalogue.rows, f"act.{name}") for name in touched.acts),
        left=tuple(_left(book, touched)) if not change.adds.rows else (),
        follows=change.was.key if isinstance(change.was, SizeOf) else "",
        procedure_names=touched.procedures,
        situation_names=touched.situations,
    )


def _line(book: Book, rows: Mapping[str, object], row_id: str) -> TouchedLine:
    row = book.catalogue.rows.get(row_id)
    if row is None:
        added = rows[row_id]
        return TouchedLine(words=first_sentence(added.means), citations=())  # type: ignore[attr-defined]
    words = first_sentence(row.means)
    if row_id.startswith("relief."):
        words = f"{relief_title(book, row_id.partition('.')[2])}: {words[:1].lower()}{words[1:]}"
    return TouchedLine(words=words, citations=book.citations(row_id) if book.has_row(row_id) else ())


def _left(book: Book, touched: Touched) -> Iterator[LeftAsItIs]:
    """Rows of the same family whose same part holds the same and stays; of reliefs those of the same title first."""
    row_id, _, part = touched.change.key.rpartition(".")
    if book.catalogue.keys[touched.change.key][1].type not in {PartType.SIZE, PartType.NUMBER} or "." not in row_id:
        return
    reached = {f"relief.{name}" for name in touched.procedures} | {row_id}
    alike = [
        other
        for other in book.catalogue.rows_of(row_id.partition(".")[0])
        if other not in reached and _holds_the_same(book, other, part, touched)
    ]
    for other in _nearest(book, row_id, alike)[:_MOST_LEFT]:
        yield LeftAsItIs(
            words=_line(book, {}, other).words,
            says=value_said(book, f"{other}.{part}", _own_value(book, f"{other}.{part}")),
            key=f"{other}.{part}",
            citations=book.citations(other),
        )


def _holds_the_same(book: Book, row_id: str, part: str, touched: Touched) -> bool:
    key = f"{row_id}.{part}"
    if key not in book.catalogue.keys or not book.has_row(row_id) or not book.has(key):
        return False
    if "allowed" in book.catalogue.rows[row_id].parts and not book.yes(f"{row_id}.allowed").value:
        return False
    return _own_value(book, key) == _own_value(book, touched.change.key)


def _own_value(book: Book, key: str) -> Value:
    """What a key holds; where it follows another, what that one holds."""
    held = book.cited(key).value
    return book.size(key).value if isinstance(held, SizeOf) else held


def _nearest(book: Book, row_id: str, others: Sequence[str]) -> list[str]:
    if not row_id.startswith("relief."):
        return list(others)
    titles = {other: _title(book, other) for other in (row_id, *others)}
    return [other for other in others if titles[row_id] and titles[other] == titles[row_id]]


def _title(book: Book, row_id: str) -> str:
    """What a relief is called; empty for a row that is no procedure."""
    return relief_title(book, row_id.partition(".")[2]) if "title" in book.catalogue.rows[row_id].parts else ""
