"""Questions and rulings outside an event: who asked, what was answered, under which book, and what follows; found again by words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from marram.core.errors import EventError
from marram.office.events.writing_rows import need_reason
from marram.rulebook.book import Book
from marram.store.contents import read_back, written
from marram.store.kept_rows import BESIDE_EVENTS, Hand, Kind, Writing
from marram.store.open_store import Store, standing

_ROWS = f"{BESIDE_EVENTS}enquiries"
_WORD = re.compile(r"\w+")
_LONGEST = 4_000
_SHORTEST_STEM = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Enquiry:
    """A question that was put to an official, and what became of it.

    Attributes:
        id: Its name, such as ``E7``.
        asked_by: Who asked.
        question: What was asked, or what happened.
        answer: What was answered or ruled; empty while nothing is.
        book: The book under which it was answered.
        stamp: Its stamp.
        follow_up: What is still to be done, or came of it.
        event: The event that it came up in; empty where there was none.
        is_struck: Whether it does not stand any more.
    """

    id: str
    asked_by: str
    question: str
    answer: str = ""
    book: str = ""
    stamp: str = ""
    follow_up: str = ""
    event: str = ""
    is_struck: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundEnquiry:
    """An enquiry with when it was written down last, and by whom."""

    enquiry: Enquiry
    who: str
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EnquiryAsked:
    """An enquiry as an official writes it down; what is empty of one that stands stays as it was.

    Attributes:
        name: Name of the one that is added to; empty for a new one.
        asked_by: Who asked.
        question: What was asked.
        answer: What was answered.
        follow_up: What is still to be done.
        event: The event that it came up in.
        is_struck: Whether it is struck out.
        reason: Why what stands is changed.
    """

    name: str = ""
    asked_by: str = ""
    question: str = ""
    answer: str = ""
    follow_up: str = ""
    event: str = ""
    is_struck: bool = False
    reason: str = ""


def keep_enquiry(store: Store, hand: Hand, asked: EnquiryAsked, book: Book) -> Enquiry:
    """Write down an enquiry, or add to one that stands.

    Args:
        store: The store.
        hand: Who does it.
        asked: The enquiry.
        book: The book under which it is answered; its stamp is kept with an answer.

    Raises:
        EventError: Nothing is asked, there is none of that name, or what stands is changed without a reason.
    """
    rows = store.every_row(_ROWS)
    stands = {row.key: row for row in standing(rows)}
    _refuse_long(asked)
    if not asked.name:
        found, supersedes = _new(asked, book, len(stands) + 1), None
    elif asked.name in stands:
        found, supersedes = _added_to(stands[asked.name].content, asked, book), stands[asked.name].number
    else:
        raise EventError(f"There is no enquiry {asked.name}.", hint=f"There are {len(stands)}; they are found by words.")
    row = Writing(kind=Kind.ENQUIRY, key=found.id, content=written(found), reason=asked.reason, supersedes=supersedes)
    store.append(_ROWS, hand, [row], seen=len(rows))
    return found


def _refuse_long(asked: EnquiryAsked) -> None:
    for name in ("asked_by", "question", "answer", "follow_up", "event"):
        if len(getattr(asked, name)) > _LONGEST:
            told = f"It holds {len(getattr(asked, name))} signs; {_LONGEST} at most are kept."
            raise EventError(told, where=name.replace("_", " "), hint="Say it in fewer words.")


def _new(asked: EnquiryAsked, book: Book, number: int) -> Enquiry:
    if not asked.question.strip() or not asked.asked_by.strip():
        raise EventError("An enquiry says who asks what.", where="enquiry", hint="Give the question and who asked it.")
    return Enquiry(
        id=f"E{number}",
        asked_by=asked.asked_by,
        question=asked.question,
        answer=asked.answer,
        book=book.name if asked.answer else "",
        stamp=book.stamp if asked.answer else "",
        follow_up=asked.follow_up,
        event=asked.event,
    )


def _added_to(content: str, asked: EnquiryAsked, book: Book) -> Enquiry:
    """What stands with what is added; to put other words in the place of some needs a reason."""
    before = read_back(content, Enquiry, f"enquiry {asked.name}")
    given = {name: getattr(asked, name) for name in ("asked_by", "question", "answer", "follow_up", "event") if getattr(asked, name)}
    replaced = [name for name, text in given.items() if getattr(before, name) not in {"", text}]
    if replaced or asked.is_struck or before.is_struck:
        need_reason(asked.reason, [f"enquiry {asked.name} stands already"])
    of_answer = {"book": book.name, "stamp": book.stamp} if asked.answer else {}
    return replace(before, **given, **of_answer, is_struck=asked.is_struck)


def find_enquiries(store: Store, words: Sequence[str] = ()) -> tuple[FoundEnquiry, ...]:
    """Enquiries in which every word stands, or begins a word; those that were written down last come first.

    Args:
        store: The store.
        words: The words; none for all.
    """
    rows = standing(store.every_row(_ROWS))
    found = [FoundEnquiry(enquiry=read_back(row.content, Enquiry, f"row {row.number}"), who=row.who, at=row.at) for row in rows]
    wanted = [word.casefold() for text in words for word in _WORD.findall(text)]
    kept = [one for one in found if not one.enquiry.is_struck and all(_is_in(word, one.enquiry) for word in wanted)]
    return tuple(sorted(kept, key=lambda one: one.at, reverse=True))


def _is_in(word: str, enquiry: Enquiry) -> bool:
    """Whether a word stands in an enquiry, or begins one of its words; of a long one an ending may differ."""
    said = " ".join((enquiry.id, enquiry.asked_by, enquiry.question, enquiry.answer, enquiry.follow_up, enquiry.book, enquiry.event))
    held = {one.casefold() for one in _WORD.findall(said)}
    stem = word.removesuffix("s") if len(word) > _SHORTEST_STEM else word
    return any(one.startswith(stem) for one in held)
