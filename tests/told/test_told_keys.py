"""Every word follows the book in force: each key that is ever told is changed, under each edition that has it, and all that tells it read.

The keys are found from the texts and from what the telling code reads (tests/support/told_keys.py); no list of them is written anywhere.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache, lru_cache

import pytest

from marram.core.errors import MarramError
from marram.rulebook import Book
from marram.rulebook.values import PartType, Value, cases_of
from marram.rulebook.wording import explain
from tests.support.tellings import tellers
from tests.support.told_keys import (
    EDITIONS,
    base,
    changed_book,
    held,
    keys_in_texts,
    marked,
    other_values,
    told_by,
    told_keys,
)

_SPAN = re.compile("⟦[^⟧]*⟧")
_VALUE_WORDS = 6
"""Words shorter than so many letters stand in many sentences for other reasons."""
ENOUGH = 2
"""So many tellers of a key that stands in texts are read closely; more only until one of them tells the change."""


def faults_of(edition: str, key: str) -> Iterator[str]:
    """What does not follow when a key is changed."""
    before = base(edition)
    _, spec = before.catalogue.find_key(key)
    values = other_values(spec, held(before, key))
    for now in values if key in keys_in_texts() else values[:1]:
        try:
            after = changed_book(edition, key, now)
        except MarramError:
            continue  # the book itself says that it cannot be so
        yield from _faults_of(before, after, key, now)


def _faults_of(before: Book, after: Book, key: str, now: Value) -> Iterator[str]:
    is_told, is_in_texts, names = False, key in keys_in_texts(), told_by(before.edition)[key]
    for number, name in enumerate(names):
        if is_told and (not is_in_texts or number >= ENOUGH):
            return
        old = _marked(before.edition, name, key) if is_in_texts else _unmarked(before.edition, name)
        with marked(key):
            new = _told(name, after)
        if old != new:
            is_told = True
            yield from _left_over(before, after, key, (old, new), name)
    was = explain.tell(before, key)
    if not is_told and (is_in_texts or (_is_number(before, key) and any(was in _unmarked(before.edition, name) for name in names))):
        yield f"{before.edition} {key} = {now!r}: nothing tells it ({', '.join(names[:3])})"


def _is_number(book: Book, key: str) -> bool:
    """Whether what is told of a key is a number or a length with its unit, which stands in no sentence for another reason."""
    _, spec = book.catalogue.find_key(key)
    return len(explain.tell(book, key)) >= _VALUE_WORDS and spec.type in {PartType.NUMBER, PartType.SIZE}


def _told(name: str, book: Book) -> str:
    """What a teller says; a refusal in words is an answer, a text that the rule data lacks is not."""
    try:
        return "\n".join(tellers()[name](book))
    except MarramError as problem:
        if "There is no" in problem.message:
            raise
        return str(problem)


@lru_cache(maxsize=16)
def _marked(edition: str, name: str, key: str) -> str:
    with marked(key):
        return _told(name, base(edition))


@cache
def _unmarked(edition: str, name: str) -> str:
    return _told(name, base(edition))


def _left_over(before: Book, after: Book, key: str, texts: tuple[str, str], name: str) -> Iterator[str]:
    """Old words that stand where the new ones should, and new ones that are missing."""
    was, now = (_words(book, key, name) for book in (before, after))
    old, new = texts
    is_filled_in = f"⟦{was}⟧" in old
    is_read_out = name.startswith("act.") and bool(cases_of(held(before, key)))
    if was == now or not (is_filled_in or is_read_out or _is_number(before, key)):
        return
    outside_old, outside_new = (_outside(text, was, is_whole=is_read_out) for text in texts)
    if outside_new > outside_old or (outside_old and outside_new == outside_old and not _SPAN.search(old)):
        yield f"{after.edition} {key}: {name} still tells the old words {was!r}"
    if is_filled_in and now not in new and now.replace(" and ", " or ") not in new:
        yield f"{after.edition} {key}: {name} does not tell the new words {now!r}"


def _outside(text: str, words: str, *, is_whole: bool) -> int:
    """How often words stand where nothing fills them in; what an act reads out is a whole line, since a shorter case may end a longer."""
    bare = _SPAN.sub("", text)
    return bare.splitlines().count(words) if is_whole else bare.count(words)


def _words(book: Book, key: str, name: str) -> str:
    """How a teller tells a key: an act reads out its last case, everything else fills it in."""
    cases = cases_of(held(book, key))
    return cases[-1].in_words(is_stroke_in_question=True) if cases and name.startswith("act.") else explain.tell(book, key)


@lru_cache
def faults_under(edition: str) -> Mapping[str, tuple[str, ...]]:
    """Each key that is told under an edition, with what does not follow it."""
    return {key: tuple(faults_of(edition, key)) for key in told_by(edition)}


@pytest.mark.parametrize("edition", EDITIONS)
def test_what_is_told_follows_the_key(edition: str) -> None:
    faults = [fault for found in faults_under(edition).values() for fault in found]
    assert not faults, f"{len(faults)} of {len(told_by(edition))}:\n" + "\n".join(faults)


def test_no_key_that_a_text_names_is_left_out() -> None:
    named = {key for key in keys_in_texts() if any(base(edition).has(key) for edition in EDITIONS)}
    assert not sorted(named - set(told_keys())), "no teller tells these"


def test_every_key_that_is_told_follows(said_at_the_end: Callable[[str], None]) -> None:
    told = told_keys()
    follows = [key for key in told if not any(faults_under(edition).get(key) for edition in EDITIONS)]
    said_at_the_end(f"told: {len(follows)} of {len(told)} keys, each edition")
    assert len(follows) == len(told)


def test_no_key_drops_out_of_sight() -> None:
    """What a book keeps of a look-up must not hide that it is told: so many were seen when nothing was kept."""
    assert len(told_keys()) >= 1457
