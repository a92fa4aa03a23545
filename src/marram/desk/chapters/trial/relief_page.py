"""The page of a relief that no book has: one sentence with named gaps, each filled from what the book already knows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from marram.core.errors import MarramError
from marram.desk.chapters.trial.change_form import filled_in, is_filled
from marram.desk.pages.posted import Posted
from marram.office.drafts.change_filled import Filled, ReadChange, filled_from
from marram.office.drafts.new_relief import GAPS, THE_SPOT, GapsOffered, Relief, offer_gaps, read_relief, relief_from
from marram.office.drafts.offered_field import typed_length
from marram.office.drafts.what_it_touches import Touches, one_change, touches_of

if TYPE_CHECKING:
    from marram.rulebook.book import Book

_SEVERAL = ("ball_in", "clear_of", "in_areas")
_ONE = ("thing", "means", "radius", "kind", "lies_on", "put", "reference", "limit", "penalty", "title")
_FAULT_OF = {"means": "what", "radius": "what"}
"""Faults of fields that stand in the gap of another name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownRelief:
    """A new relief with what stands in its gaps.

    Attributes:
        number: Number of its change; 0 for one that is not kept yet.
        relief: What stands in the gaps.
        offered: What may be chosen.
        filled: What stands in the other fields.
        read: How all of it reads.
        faults: What is wrong, by field, as far as it is told already.
        checked: What the check of the file says of it.
        touches: What it touches; None before every gap is filled.
        more: Parts in the file that the sentence does not speak of.
        open: The gap that is open.
        words: What stands in each gap, in words; empty where it is not filled yet.
        amount: Amount of a length of its own.
        unit: Its unit.
    """

    number: int
    relief: Relief
    offered: GapsOffered
    filled: Filled
    read: ReadChange
    faults: Mapping[str, str]
    checked: tuple[object, ...]
    touches: Touches | None
    more: tuple[str, ...]
    open: str
    words: Mapping[str, str]
    amount: str
    unit: str


def show_relief(
    book: Book, asked: Posted, members: Mapping[str, object] | None, number: int, checked: tuple[object, ...], *, tells_all: bool
) -> ShownRelief:
    """The new relief that is open, with what was filled in, else with what the file holds.

    Args:
        book: The book that the trial lies on.
        asked: What the address states, or what was posted.
        members: The change as the file holds it; None for a new one.
        number: Its number; 0 for a new one.
        checked: What the check of the file says of it.
        tells_all: Whether every fault is told, also of gaps that nobody has filled yet.
    """
    offered = offer_gaps(book)
    held, more = relief_from(members) if members is not None else (Relief(), ())
    relief = _relief_in(asked) if is_filled(asked) else held
    filled = filled_in(asked, "", "") if is_filled(asked) else filled_from(members or {})
    read = read_relief(book, relief, filled, members)
    words = _words(relief, offered)
    faults = read.faults if tells_all else {name: told for name, told in read.faults.items() if _is_told(name, relief, filled)}
    amount, unit = ("", "") if relief.size.startswith("as ") or relief.size == THE_SPOT else typed_length(relief.size)
    return ShownRelief(
        number=number,
        relief=relief,
        offered=offered,
        filled=filled,
        read=read,
        faults=faults,
        checked=checked,
        touches=_touches(book, read),
        more=more,
        open=_open(asked, faults, words),
        words=words,
        amount=amount,
        unit=unit or "m",
    )


def _relief_in(asked: Posted) -> Relief:
    """What stands in the gaps of a form."""
    own = asked.first("amount").strip()
    size = asked.first("size")
    if size in {"", "own"}:
        size = own if not own or any(letter.isalpha() for letter in own) else f"{own} {asked.first('unit')}"
    told: dict[str, str] = {name: asked.first(name) for name in _ONE}
    lists: dict[str, tuple[str, ...]] = {name: tuple(dict.fromkeys(value for value in asked.all(name) if value)) for name in _SEVERAL}
    return Relief(size=size, **told, **lists)  # type: ignore[arg-type]


def _is_told(name: str, relief: Relief, filled: Filled) -> bool:
    """Whether a fault is told while somebody is still filling in: of what stands there, and not of what is still empty."""
    told = {"what": relief.thing, "means": "", "size": relief.size, "because": filled.because}
    return bool(told.get(name, "x"))


def _open(asked: Posted, faults: Mapping[str, str], words: Mapping[str, str]) -> str:
    """The gap that is open: the one that was asked for, else the first that is wrong or empty."""
    if asked.first("gap") in GAPS:
        return asked.first("gap")
    wrong = [gap for gap in GAPS if gap in {_FAULT_OF.get(name, name) for name in faults}]
    empty = [gap for gap in GAPS if not words[gap]]
    return next(iter(wrong or empty), "")


def _words(relief: Relief, offered: GapsOffered) -> dict[str, str]:
    """What stands in each gap, in words."""
    areas = {each.value: each.words for each in offered.areas}
    sizes = {each.value: each.words for each in offered.sizes}

    def said(offers: tuple[object, ...], value: str) -> str:
        return next((str(each.words) for each in offers if each.value == value), "")  # type: ignore[attr-defined]

    where = " or ".join(areas.get(word, word) for word in relief.ball_in)
    return {
        "what": relief.thing.strip() or (relief.kind and relief.kind.replace("-", " ")),
        "where": where and (f"{where}, on ground cut to fairway height" if relief.lies_on == "fairway-height" else where),
        "put": "dropped" if relief.put == "drop" else "placed" if relief.put == "place" else "",
        "size": "the area of that stroke" if not relief.has_size else sizes.get(relief.size, relief.size),
        "reference": said(offered.references, relief.reference),
        "limit": "nearer the hole or not"
        if relief.limit == "nothing"
        else f"not nearer the hole than {said(offered.limits, relief.limit)}",
        "in_areas": " or ".join(areas.get(word, word) for word in relief.in_areas),
        "penalty": {"0": "no penalty", "1": "one penalty stroke"}.get(
            relief.penalty.strip(), f"{relief.penalty.strip()} penalty strokes" if relief.penalty.strip() else ""
        ),
    }


def _touches(book: Book, read: ReadChange) -> Touches | None:
    if "add" not in read.members:
        return None
    try:
        return touches_of(book, one_change(book, read.members))
    except MarramError:
        return None  # the fault itself stands beside its gap
