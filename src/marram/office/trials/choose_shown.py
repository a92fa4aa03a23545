"""Choose what a guide shows: for each change of a trial the procedures that it alters, each at a place where both books give it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

from marram.core.citations import merged
from marram.core.work import Work
from marram.course.course import Course
from marram.office.courses.find_places import PlacesFound, ShownPlace, search_places
from marram.rulebook.book import Book, open_book
from marram.rulebook.differences.change_heading import relief_title
from marram.rulebook.differences.reach import procedures_altered
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulings.case.case import Case
from marram.rulings.case.incident import Player
from marram.sheets.guide.frames import only_option
from marram.showing.forbidden import Carried, forbidden_by

_SITUATION = "situation."
TRIED_FOR_WORDS = 2
"""So many procedures are tried for a change that none states itself: any that is dropped tells how a ball is dropped."""
IN_WORDS = "It is no part of how relief is measured, so there is nothing to draw."


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A procedure with the place found for it."""

    procedure: str
    found: PlacesFound
    place: ShownPlace


class Chooser:
    """Finds places for procedures and keeps what was found and what was not."""

    def __init__(self, course: Course, before: Book | None, now: Book, player: Player, work: Work) -> None:
        self.course, self.before, self.now, self.player, self.work = course, before, now, player, work
        self.shown: dict[str, Shown] = {}
        self.why_none: dict[str, str] = {}
        self.not_shown: list[str] = []
        self.not_drawn: dict[int, str] = {}

    def ask(self, procedures: Sequence[str]) -> None:
        """Show just these."""
        for name in procedures:
            if not self._try(name):
                self.not_shown.append(f"{relief_title(self.now, name)}: {self.why_none[name]}")

    def choose(self, change: Change, altered: Sequence[str], each: int) -> None:
        """Show the first procedures that a change alters and that the course has a place for, under different titles if it can."""
        kept = [name for name in altered if name in self.shown]
        for name in (*self._apart(altered), *altered):
            if len(kept) >= each:
                return
            if name not in kept and name not in self.why_none and self._try(name):
                kept.append(name)
        if not kept:
            why = self._why_none_of(altered) if altered else IN_WORDS
            self.not_drawn[change.number] = why
            self.not_shown.append(f"Change {change.number}. {why}")

    def _why_none_of(self, altered: Sequence[str]) -> str:
        """Why none of the procedures that a change alters has a place: the first reason, and how many more there are."""
        more = len(altered) - 1
        others = f" The other {more} that it alters have no place here either." if more > 1 else ""
        others = " The other one that it alters has no place here either." if more == 1 else others
        return f"{relief_title(self.now, altered[0])}: {self.why_none[altered[0]]}{others}"

    def tell(self, change: Change) -> tuple[str, ...]:
        """Show a procedure whose words rest on a change of what no procedure states itself, such as how a ball is dropped.

        Returns:
            The procedure, where one of the first that come up cites the change.
        """
        for name in (*self.shown, *self._apart(list(_told_in_order(self.now)))[:TRIED_FOR_WORDS]):
            was_shown = name in self.shown
            if not was_shown and not self._try(name):
                continue
            if self._cites(name, change):
                return (name,)
            if not was_shown:
                del self.shown[name]
        return ()

    def told_by(self, change: Change) -> tuple[str, ...]:
        """Every procedure shown whose words rest on a change."""
        return tuple(name for name in self.shown if self._cites(name, change))

    def _cites(self, name: str, change: Change) -> bool:
        """Whether the option shown, or what is forbidden with it, cites a change."""
        entry = self.shown[name]
        course = entry.found.course.with_conditions(entry.place.incident.conditions)
        own = next(shown for book, shown in zip(entry.found.books, entry.place.under, strict=True) if book is self.now)
        carried = Carried(case=Case(incident=entry.place.incident, course=course, book=self.now), option=own.option)
        lines = forbidden_by(carried, only_option(own.ruling, own.option))
        cited = merged(own.option.citations, *(line.citations for line in lines))
        return bool(set(self.now.changes_of([change.key])) & set(cited))

    def _apart(self, names: Sequence[str]) -> list[str]:
        """The first procedure of each title."""
        first: dict[str, str] = {}
        for name in names:
            first.setdefault(relief_title(self.now, name), name)
        shown = {relief_title(self.now, name) for name in self.shown}
        return [name for title, name in first.items() if title not in shown]

    def _try(self, name: str) -> bool:
        """Find a place for a procedure, or keep why there is none."""
        found = self._find(name)
        if found.places:
            self.shown[name] = Shown(procedure=name, found=found, place=found.places[0])
        else:
            self.why_none[name] = found.why_none
        return bool(found.places)

    def _find(self, name: str) -> PlacesFound:
        """A place where both books give the procedure; where the book before does not, one where the book now does."""
        if self.before is not None:
            found = search_places(self.course, name, (self.before, self.now), player=self.player, count=1, work=self.work)
            if found.places:
                return found
        return search_places(self.course, name, (self.now,), player=self.player, count=1, work=self.work)


def altered_by(base: Book, overlay: Overlay, change: Change) -> tuple[str, ...]:
    """The procedures that one change alters, those that come up most openly first: in the order of the situations."""
    alone = open_book(base.edition, [*base.overlays, replace(overlay, changes=(change,))], base.catalogue)
    order = {name: number for number, name in enumerate(_told_in_order(base))}
    return tuple(sorted(procedures_altered(base, alone), key=lambda name: order.get(name, len(order))))


def _told_in_order(book: Book) -> Iterator[str]:
    """Procedures in the order in which the situations name them: the first of each situation, then the second of each."""
    rows = [row.id for row in book.catalogue.rows.values() if row.id.startswith(_SITUATION) and book.has_row(row.id)]
    turns = zip_longest(*(book.words(f"{row}.procedures").value for row in rows))
    yield from dict.fromkeys(name for turn in turns for name in turn if name is not None)
