"""A change as the fields of a form: what they show, and what they state put together again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from marram.desk.chapters.trial.trial_address import FILLED
from marram.desk.pages.posted import Posted
from marram.office.drafts.change_filled import Filled, filled_from
from marram.office.drafts.offered_cases import CaseOffered, cases_typed, offer_cases, typed_cases
from marram.office.drafts.offered_field import FieldKind, Offer, OfferedField, typed_length, typed_now, typed_words

if TYPE_CHECKING:
    from marram.rulebook.book import Book

_FEW = 12
"""So many words are ticked off side by side; of more, those that are chosen, and the rest in a list to choose from."""
_LENGTH, _AS = ("amount", "unit", "same"), "as "


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownField:
    """The field of a new value with what stands in it.

    Attributes:
        offered: The field.
        typed: The value as it is typed.
        amount: Amount of a length.
        unit: Its unit.
        same: The key whose length it follows; empty where it states its own.
        ticked: Words to tick off, with whether each is.
        more: Words that may be added.
        cases: The cases, as fields.
        cases_as_typed: The cases that these fields are about.
    """

    offered: OfferedField
    typed: str
    amount: str
    unit: str
    same: str
    ticked: tuple[tuple[Offer, bool], ...]
    more: tuple[Offer, ...]
    cases: tuple[CaseOffered, ...]
    cases_as_typed: str


def show_field(book: Book, offered: OfferedField, typed: str) -> ShownField:
    """The field of a key with a value in it.

    Args:
        book: The book.
        offered: The field.
        typed: The value as it is typed.
    """
    is_same = typed.startswith(_AS)
    amount, unit = ("", "") if is_same else typed_length(typed)
    chosen = typed_words(typed)
    known = {offer.value: offer for offer in offered.offers}
    shown = [known.get(word) or Offer(value=word, words=word) for word in chosen]
    left = [offer for offer in offered.offers if offer.value not in chosen]
    are_few = len(known) <= _FEW
    cases = cases_typed(book, offered.key, typed) if offered.kind is FieldKind.CASES else ()
    return ShownField(
        offered=offered,
        typed=typed,
        amount=amount,
        unit=unit or "club-lengths",
        same=typed if is_same else "",
        ticked=(*((offer, True) for offer in shown), *((offer, False) for offer in left if are_few or offer.is_held)),
        more=() if are_few else tuple(offer for offer in left if not offer.is_held),
        cases=offer_cases(cases or offered.cases),
        cases_as_typed=typed if cases else offered.holds,
    )


def is_filled(asked: Posted) -> bool:
    """Whether the fields of a change were filled in, and do not stand as the file has them."""
    return bool(asked.first(FILLED))


def typed_in(book: Book, offered: OfferedField, asked: Posted) -> str:
    """The new value as it is typed, put together from the parts of its field."""
    match offered.kind:
        case FieldKind.LENGTH if any(name in dict(asked.fields) for name in _LENGTH):
            return asked.first("same") or _length(asked.first("amount").strip(), asked.first("unit"))
        case FieldKind.SEVERAL:
            words = [word for word in (*asked.all("pick"), *asked.all("more")) if word]
            return ", ".join(dict.fromkeys(words)) or "none"
        case FieldKind.CASES if asked.first("cases"):
            return typed_cases(
                cases_typed(book, offered.key, asked.first("cases")) or offered.cases,
                _case_parts(asked),
                [int(text) for text in asked.all("case_out") if text.isdecimal()],
                asked.first("case_for"),
            )
        case _:
            return asked.first("now")


def _length(amount: str, unit: str) -> str:
    """A length; an amount that names its own unit keeps it."""
    return amount if not amount or any(letter.isalpha() for letter in amount) else f"{amount} {unit}"


def _case_parts(asked: Posted) -> Mapping[tuple[int, str], str]:
    """What was filled in for each member of each case, under names such as ``case.0.strokes``."""
    found = {}
    for name, value in asked.fields:
        head, _, rest = name.partition(".")
        place, _, member = rest.partition(".")
        if head == "case" and place.isdecimal() and len(place) < 4:
            found[int(place), member] = value
    return found


def filled_in(asked: Posted, key: str, now: str) -> Filled:
    """What stands in the fields of a change.

    Args:
        asked: The fields.
        key: The key.
        now: The new value as it is typed.
    """
    guards = zip(asked.all("guard_outcome"), asked.all("guard_margin"), asked.all("guard_worse"), strict=False)
    return Filled(
        key=key,
        now=now,
        because=asked.first("because"),
        aim=asked.first("aim"),
        asks=tuple(asked.first("asks").splitlines()),
        is_local_rule=asked.first("local") == "yes",
        outcome=asked.first("outcome"),
        direction=asked.first("direction") or "down",
        matters=asked.first("matters"),
        guards=tuple(guards),
        observes=asked.all("observes"),
        is_anew=asked.first("anew") == "yes",
    )


def filled_before(members: Mapping[str, object], now: str) -> Filled:
    """What the fields of a change show that the file holds."""
    return replace(filled_from(members), now=now)


def now_in_file(book: Book, key: str, members: Mapping[str, object]) -> str:
    """The new value of a change of the file, as it is typed; empty where it cannot be read."""
    return typed_now(book, key, members.get("now"))
