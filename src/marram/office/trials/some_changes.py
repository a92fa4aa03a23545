"""A trial with only some of its changes on: the book of such a day, which changes forbid each other, and which touch the same."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from itertools import permutations

from marram.core.errors import MarramError, StudyError
from marram.office.trials.draft_trial import situations_of, touched_by
from marram.rulebook.book import Book, open_book
from marram.rulebook.overlays.overlay import Change, Overlay


def with_changes(trial: Overlay, numbers: Collection[int]) -> Overlay:
    """The trial with only the changes of a day on; what players find in the book of that day.

    The changes that are left are numbered anew from 1, as a file numbers them, and clarifications of the others go with them.

    Args:
        trial: The trial.
        numbers: Numbers of the changes that are on.

    Raises:
        StudyError: The trial has no such change, or none is on: then the ordinary book is played.
    """
    unknown = sorted(set(numbers) - {change.number for change in trial.changes})
    if unknown:
        raise StudyError(f"The trial has no change {unknown[0]}.", where="changes", hint=f"It has changes 1 to {len(trial.changes)}.")
    if not numbers:
        raise StudyError("On a day without changes the ordinary book is played.", where="changes", hint="Name at least one change.")
    kept = [change for change in trial.changes if change.number in numbers]
    anew = {change.number: place for place, change in enumerate(kept, start=1)}
    told = tuple(
        entry if entry.change is None else replace(entry, change=anew[entry.change])
        for entry in trial.life.clarifications
        if entry.change is None or entry.change in anew
    )
    changes = tuple(replace(change, number=anew[change.number]) for change in kept)
    return replace(trial, changes=changes, life=replace(trial.life, clarifications=told))


def change_named(change: Change) -> str:
    """What a change is called in a list: what it is for, else its key."""
    return change.aim.rstrip(".") or change.key


def meeting_pairs(trial: Overlay, book: Book) -> frozenset[frozenset[int]]:
    """Pairs of changes, by number, that touch the same procedure, act or row."""
    return frozenset(frozenset({each.change.number, other}) for each in touched_by(trial, book) for other in each.with_changes)


def refuse_forbidden(trial: Overlay, book: Book, days: Iterable[Collection[int]]) -> None:
    """See that every change can be played with and without each other on the days of a plan.

    Args:
        trial: The trial.
        book: The book that it lies on.
        days: The changes that are on on each day.

    Raises:
        StudyError: A day's changes make no book, or a change leaves nothing for another to come up in.
    """
    remedy = "Give them separate arms: try each by itself, on days of its own, in a trial or a part of the season of its own."
    for on in sorted({tuple(sorted(day)) for day in days if day}):
        try:
            open_book(book.edition, [with_changes(trial, on)], book.catalogue)
        except MarramError as problem:
            message = f"Changes {', '.join(map(str, on))} without the others make no book: {problem.message}"
            raise StudyError(message, where=trial.name, hint=remedy) from None
    for first, second in permutations([change.number for change in trial.changes], 2):
        if _comes_up(trial, book, {second}, second) and not _comes_up(trial, book, {first, second}, second):
            message = f"Where change {first} is on, change {second} never comes up, so days cannot tell what they do together."
            raise StudyError(message, where=trial.name, hint=remedy)


def _comes_up(trial: Overlay, book: Book, on: Collection[int], number: int) -> bool:
    """Whether a procedure that a change alters is allowed and led to by any situation, with some changes on."""
    laid = open_book(book.edition, [with_changes(trial, on)], book.catalogue)
    (alone,) = touched_by(with_changes(trial, {number}), book)
    return bool(situations_of(laid, [name for name in alone.procedures if _is_allowed(laid, f"relief.{name}.allowed")]))


def _is_allowed(book: Book, key: str) -> bool:
    return not book.has(key) or book.yes(key).value
