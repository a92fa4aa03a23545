"""Draft one change of a trial from what somebody answers: its key, its new value, what would show that it works."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from marram.interchange.books.value_text import read_written, takes, written
from marram.records.outcomes import Outcome, find_outcome, outcomes
from marram.rulebook.book import Book
from marram.rulebook.overlays.overlay import Change, Standing
from marram.rulebook.overlays.trial_terms import Direction, Expectation, Guard
from marram.rulebook.values import Value

DIRECTIONS = tuple(way.value for way in Direction)
"""Which way an outcome may be meant to go."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyAsked:
    """A key that is to change.

    Attributes:
        key: The key.
        means: What it means, in a sentence or two.
        holds: What the book holds now, as it is typed.
        rule: The rule behind it, with where it was seen.
        takes: What kind of value it takes, in words.
    """

    key: str
    means: str
    holds: str
    rule: str
    takes: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeAnswered:
    """What somebody answered about one change.

    Attributes:
        key: The key that changes.
        now: Its new value.
        because: Why.
        aim: What it is for; empty where nothing was said.
        expects: What would show that it works; None where nothing was said.
        guard: What must not get worse; None where nothing was said.
        question: What players are asked; empty where nothing is.
        is_local_rule: Whether a Committee may adopt it as a local rule.
    """

    key: str
    now: Value
    because: str
    aim: str
    expects: Expectation | None
    guard: Guard | None
    question: str
    is_local_rule: bool


def list_outcomes() -> Mapping[str, Outcome]:
    """What a trial can observe, by key."""
    return outcomes()


def outcome_named(name: str, *, field: str = "") -> Outcome:
    """An outcome by its name.

    Args:
        name: Its name.
        field: The field in which it was typed, for errors.

    Raises:
        RecordError: There is none; the error names the nearest.
    """
    return find_outcome(name, field=field)


def expected(outcome: str, direction: str, matters: float) -> Expectation:
    """What would show that a change works: an outcome, which way it goes, and the smallest effect that matters."""
    return Expectation(outcome=outcome, direction=Direction(direction), matters=matters)


def guarded(outcome: str, margin: float) -> Guard:
    """What a change must not make worse: an outcome, and by how much it may change at most."""
    return Guard(outcome=outcome, margin=margin)


def is_key_of(book: Book, typed: str) -> bool:
    """Whether what was typed is a key that a book has."""
    return typed in book.catalogue.keys and book.has(typed)


def find_keys(book: Book, words: str) -> list[str]:
    """Keys of a book that speak of some words: those that speak of most of them first, and of these the ones named by them."""
    from marram.rulings.acts.acts import stems_of  # loads what knows ground, which no other question of a draft needs

    asked = stems_of(words)
    rules = {word for word in words.lower().split() if any(letter.isdigit() for letter in word)}
    hits = []
    for number, (key, (row, spec)) in enumerate(book.catalogue.keys.items()):
        named = stems_of(key.replace(".", " ").replace("-", " ").replace("_", " "))
        if not (spec.decides and book.has(key)):
            continue
        in_rule = sum(rule in book.cited(key).citations[0].rule.lower() for rule in rules)
        count = len(asked & (named | stems_of(f"{row.means} {spec.means} {spec.unit}"))) + 2 * in_rule
        if count:
            hits.append((-count, -len(asked & named), len(named), number, key))
    return [key for *_, key in sorted(hits)]


def key_means(book: Book, key: str) -> str:
    """What a key means, in a sentence or two."""
    row, spec = book.catalogue.find_key(key)
    return f"{row.means} {spec.means}."


def ask_of_key(book: Book, key: str) -> KeyAsked:
    """What somebody should know before he gives a key another value.

    Args:
        book: The book.
        key: A key that it has.
    """
    _, spec = book.catalogue.find_key(key)
    held = book.cited(key)
    rule = f"{held.citations[0].reference}, {held.citations[0].provenance}"
    return KeyAsked(key=key, means=key_means(book, key), holds=written(held.value), rule=rule, takes=takes(spec))


def read_new_value(book: Book, key: str, typed: str) -> tuple[Value | None, str]:
    """Read the new value of a key.

    Args:
        book: The book.
        key: A key that it has.
        typed: What was typed.

    Returns:
        The value, or None with what is wrong with it: it cannot be read, or it is what the book holds already.
    """
    _, spec = book.catalogue.find_key(key)
    held = book.cited(key).value
    value, fault = read_written(typed, spec, book.catalogue)
    if value is not None and value != held:
        return value, ""
    return None, fault or f"That is what {book.name} holds already: {written(held)}."


def draft_change(book: Book, number: int, answered: ChangeAnswered) -> Change:
    """One change of a draft.

    Args:
        book: The book that it changes.
        number: Its number, from 1.
        answered: What was answered about it.
    """
    expects, guard = answered.expects, answered.guard
    return Change(
        number=number,
        key=answered.key,
        was=book.cited(answered.key).value,
        now=answered.now,
        because=answered.because,
        standing=Standing.LOCAL_RULE if answered.is_local_rule else Standing.UNOFFICIAL,
        aim=answered.aim,
        expects=expects,
        guards=() if guard is None else (guard,),
        observes=tuple(dict.fromkeys(entry.outcome for entry in (expects, guard) if entry is not None)),
        asks=(answered.question,) if answered.question else (),
    )
