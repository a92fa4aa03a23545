"""Draft a trial: from answers or a filled sheet to an overlay file, and what a finished draft touches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from marram.core.errors import MarramError
from marram.evidence.weighing.finding_words import amount_words, turned_words
from marram.evidence.weighing.together import confounded
from marram.records.outcomes import outcomes
from marram.rulebook.book import Book, open_book
from marram.rulebook.differences.reach import procedures_altered
from marram.rulebook.differences.told_change import ToldChange, tell_change
from marram.rulebook.overlays.overlay import Change, Overlay, Standing
from marram.rulebook.overlays.trial_terms import Direction, Status
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.values import Plain, plain_value

_ACT, _SITUATION, _RELIEF = "act.", "situation.", "relief."
STATUSES = tuple(status.value for status in Status)
"""Where a trial may stand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftFault:
    """Something about a draft that is to be put right, or at least looked at.

    Attributes:
        change: Number of the change; None for the trial as a whole.
        stops: Whether the trial cannot be planned or used with it.
        message: What is wrong.
        remedy: What to do.
    """

    change: int | None
    stops: bool
    message: str
    remedy: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Touched:
    """What one change of a trial touches.

    Attributes:
        change: The change.
        situations: Situations in which it may come up.
        procedures: Relief procedures that it alters.
        acts: Acts that it alters.
        told: The change in words.
        with_changes: Numbers of other changes that touch the same procedure, act or row.
    """

    change: Change
    situations: tuple[str, ...]
    procedures: tuple[str, ...]
    acts: tuple[str, ...]
    told: ToldChange
    with_changes: tuple[int, ...]

    @property
    def was(self) -> Plain:
        """The value before, as files write it."""
        return plain_value(self.change.was)

    @property
    def now(self) -> Plain:
        """The value now, as files write it."""
        return plain_value(self.change.now)


def draft_overlay(book: Book, title: str, dated: date, changes: Sequence[Change]) -> Overlay:
    """A draft on top of an edition.

    Args:
        book: The edition.
        title: Title of the trial.
        dated: Day of the text.
        changes: The changes, in order.
    """
    return Overlay(name="draft", title=title, dated=dated, on=(book.edition,), after=(), changes=tuple(changes))


def trial_text(trial: Overlay) -> str:
    """The file of a trial."""
    from marram.interchange.books.overlay_writing import write_overlay

    return write_overlay(trial)


def check_trial(trial: Overlay) -> tuple[DraftFault, ...]:
    """Every fault of a draft that can be read: what does not fit its edition, and what keeps it from being planned."""
    faults = [_fault(None, f"{edition}: {problem}", "Correct `was`, or the edition.") for edition, problem in _misfits(trial)]
    for change in trial.changes:
        faults += _faults_of(change)
    faults += [_confounded(outcome, numbers) for outcome, numbers in confounded(trial).items()]
    if not trial.on:
        faults.append(_fault(None, "No edition is named.", 'Write on = ["2023"], or the edition that the trial lies on.'))
    if trial.life.status is not Status.DRAFT and trial.life.first_day is None:
        faults.append(_fault(None, f"The trial is {trial.life.status.value} and has no first day.", "Write from = and until = with dates."))
    return tuple(faults)


def _fault(change: int | None, message: str, remedy: str, *, stops: bool = True) -> DraftFault:
    return DraftFault(change=change, stops=stops, message=message, remedy=remedy)


def _confounded(outcome: str, numbers: Sequence[int]) -> DraftFault:
    """Changes that no day can tell apart."""
    named = f"{', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"
    message = f"Changes {named} are all to move {outcome}, on the same days: no day can say which of them did it."
    remedy = (
        "Give them outcomes of their own, plan days with some of the changes, try them in different trials, or judge all but one at a "
        "station; else they are weighed together."
    )
    return _fault(None, message, remedy, stops=False)


def _misfits(trial: Overlay) -> list[tuple[str, str]]:
    found = []
    for edition in trial.on:
        try:
            open_book(edition, [trial], packaged_catalogue())
        except MarramError as problem:
            found.append((edition, str(problem)))
    return found


def _faults_of(change: Change) -> list[DraftFault]:
    number, found = change.number, []
    if change.now == change.was:
        found.append(_fault(number, "Nothing changes: now is what was.", "Give the new value, or take the change out."))
    if change.expects is None:
        remedy = "Write expects = { outcome, direction, matters }; `list_outcomes()` lists what can be observed."
        found.append(_fault(number, "Nothing is expected of it, so no trial can show whether it works.", remedy, stops=False))
    elif change.expects.outcome in {guard.outcome for guard in change.guards}:
        found.append(_fault(number, "One outcome is both what it is for and what it must not change.", "Guard another outcome."))
    if not change.aim:
        found.append(_fault(number, "It has no aim.", "Say in one sentence what it is for.", stops=False))
    if not change.asks:
        found.append(_fault(number, "Players are not asked about it.", "Write asks = with one question.", stops=False))
    return found


def touched_by(trial: Overlay, book: Book) -> tuple[Touched, ...]:
    """What each change touches, with the other changes that touch the same.

    Args:
        trial: The trial.
        book: The book that it lies on.
    """
    laid = open_book(book.edition, [trial], book.catalogue)
    alone = [_reach(book, trial, change) for change in trial.changes]
    return tuple(
        Touched(
            change=change,
            situations=situations_of(laid, procedures),
            procedures=procedures,
            acts=acts,
            told=tell_change(book, change),
            with_changes=tuple(
                other.number
                for other, (their_procedures, their_acts) in zip(trial.changes, alone, strict=True)
                if other.number != change.number
                and (_is_same_row(change, other) or set(procedures + acts) & set(their_procedures + their_acts))
            ),
        )
        for change, (procedures, acts) in zip(trial.changes, alone, strict=True)
    )


def _is_same_row(change: Change, other: Change) -> bool:
    return change.key.rpartition(".")[0] == other.key.rpartition(".")[0]


def _reach(book: Book, trial: Overlay, change: Change) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Procedures and acts that one change alone alters."""
    only = Overlay(name=trial.name, title=trial.title, dated=trial.dated, on=(book.edition,), after=(), changes=(change,))
    procedures = procedures_altered(book, open_book(book.edition, [only], book.catalogue))
    row = change.key.rpartition(".")[0]
    return procedures, (row.removeprefix(_ACT),) if row.startswith(_ACT) else ()


def situations_of(book: Book, procedures: Sequence[str]) -> tuple[str, ...]:
    """Situations of a book that lead to any of some procedures, also by way of another."""
    rows = [row for row in book.catalogue.rows if row.startswith(_SITUATION) and book.has_row(row)]
    named = [row for row in rows if _all_procedures(book, book.words(f"{row}.procedures").value) & set(procedures)]
    return tuple(row.removeprefix(_SITUATION) for row in named)


def _all_procedures(book: Book, named: Sequence[str]) -> set[str]:
    """Procedures with those by which they are carried out."""
    found: set[str] = set()
    left = list(named)
    while left:
        name = left.pop()
        if name not in found:
            found.add(name)
            key = f"{_RELIEF}{name}.follow"
            left += book.words(key).value if book.has(key) else ()
    return found


def may_count_for_handicap(trial: Overlay) -> bool:
    """Whether rounds under a trial can count for a handicap: only where each change is allowed as a local rule."""
    return all(change.standing is Standing.LOCAL_RULE for change in trial.changes)


def wishes(change: Change) -> tuple[str, ...]:
    """What a change is for, what would show it, what it must not change, and what players are asked, each a sentence."""
    found = [f"Meant for: {change.aim}"] if change.aim else []
    if change.expects is not None:
        outcome, least = outcomes()[change.expects.outcome], change.expects.matters
        amount = turned_words(-least if change.expects.direction is Direction.DOWN else least, outcome, is_stated=True)
        found.append(f"Shown by: {outcome.means} At least {amount}.")
    for guard in change.guards:
        outcome = outcomes()[guard.outcome]
        found.append(f"Must not get worse: {outcome.means} Up to {amount_words(guard.margin, outcome, is_stated=True)} may pass.")
    return (*found, *(f"Asked: {question}" for question in change.asks))
