"""The cases of an act as fields: each with what it leads to, one that is taken out, one that is added for a fact."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from enum import StrEnum

from marram.interchange.books.overlay_writing import toml_value
from marram.interchange.books.value_text import read_written
from marram.office.drafts.offered_field import Offer
from marram.rulebook.book import Book
from marram.rulebook.consequence_words import ADDED_WORDS, BALL_WORDS, HOLE_WORDS, STROKE_WORDS
from marram.rulebook.consequences import Cases, Consequence, plain_cases
from marram.rulebook.differences.difference_words import case_said
from marram.rulebook.values import cases_of

_WORDS_OF: Mapping[str, Mapping[object, str]] = {"hole": HOLE_WORDS, "stroke": STROKE_WORDS, "ball": BALL_WORDS, "added": ADDED_WORDS}  # type: ignore[dict-item]
_USUALLY_SHOWN = ("strokes", "match_strokes", "hole", "out")


@dataclass(frozen=True, slots=True, kw_only=True)
class CasePart:
    """One member of a case, as a field.

    Attributes:
        name: Its name.
        value: What it holds, as text.
        offers: What may be chosen; none where a whole number is typed.
        is_first: Whether it is shown first, since it is asked about most.
    """

    name: str
    value: str
    offers: tuple[Offer, ...]
    is_first: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseOffered:
    """One case, as fields.

    Attributes:
        when: When it holds, in words; empty for the last, which holds else.
        facts: The facts.
        says: What it leads to.
        parts: Its fields.
    """

    when: str
    facts: tuple[str, ...]
    says: str
    parts: tuple[CasePart, ...]


def offer_cases(cases: Cases) -> tuple[CaseOffered, ...]:
    """Cases as fields."""
    return tuple(
        CaseOffered(
            when=" and ".join(fact.replace("_", " ") for fact in case.when),
            facts=case.when,
            says=case_said(case),
            parts=tuple(_case_part(case, entry.name, entry.default) for entry in fields(Consequence) if entry.name != "when"),
        )
        for case in cases
    )


def _case_part(case: Consequence, name: str, usual: object) -> CasePart:
    value = getattr(case, name)
    is_first = name in _USUALLY_SHOWN or value != usual
    if isinstance(usual, bool):
        words = (("yes", True), ("no", False))
        return CasePart(
            name=name,
            value="yes" if value else "no",
            is_first=is_first,
            offers=tuple(Offer(value=typed, words=typed, is_held=value is so) for typed, so in words),
        )
    if isinstance(usual, int):
        return CasePart(name=name, value=str(value), is_first=is_first, offers=())
    kind = (
        type(usual)
        if isinstance(usual, StrEnum)
        else {"match_stroke": type(Consequence().stroke), "match_ball": type(Consequence().ball)}[name]
    )
    said = _WORDS_OF.get(name.removeprefix("match_"), {})
    listed = [Offer(value=word.value, words=said.get(word) or word.value.replace("-", " "), is_held=word == value) for word in kind]
    if usual is None:
        listed.insert(0, Offer(value="", words="", is_held=value is None))
    return CasePart(name=name, value="" if value is None else str(value), offers=tuple(listed), is_first=is_first)


def typed_cases(held: Cases, filled: Mapping[tuple[int, str], str], gone: Sequence[int], more: str) -> str:
    """Cases as they are typed, from the fields of each.

    Args:
        held: The cases that the fields were shown for.
        filled: What was filled in, by place of the case and name of the member.
        gone: Places of the cases that are taken out.
        more: A fact for which a case of its own is put before the last; empty for none.
    """
    plain = [
        _filled_case(case, {name: text for (place, name), text in filled.items() if place == at})
        for at, case in enumerate(plain_cases(held))
    ]
    left = [case for at, case in enumerate(plain) if at not in gone or at == len(plain) - 1]
    if more and left:
        left.insert(len(left) - 1, {"when": [more], **{name: value for name, value in left[-1].items() if name != "when"}})
    return "; ".join(_typed_case(case) for case in left)


def _filled_case(case: Mapping[str, object], filled: Mapping[str, str]) -> dict[str, object]:
    usual = {entry.name: entry.default for entry in fields(Consequence)}
    told = dict(case)
    for name, text in filled.items():
        if name not in usual or name == "when":
            continue
        default = usual[name]
        value: object = text.strip()
        if isinstance(default, bool):
            value = text.strip() == "yes"
        elif isinstance(default, int):
            value = int(text) if text.strip().isdecimal() and len(text) < 4 else text.strip() or 0
        if value == default or (default is None and not value):
            told.pop(name, None)
        else:
            told[name] = value
    return told


def _typed_case(case: Mapping[str, object]) -> str:
    return toml_value(dict(case))


def cases_typed(book: Book, key: str, typed: str) -> Cases:
    """The cases of a typed list; none where it cannot be read."""
    value, _ = read_written(typed, book.catalogue.find_key(key)[1], book.catalogue)
    return () if value is None else cases_of(value)
