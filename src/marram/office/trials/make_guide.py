"""Make the guide for players: choose places on the course, rule there under the book before and the book now, write the pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

from marram.core.citations import merged
from marram.core.work import Work
from marram.course.course import Course
from marram.course.joining import ACCURACY_SIGMAS
from marram.office.courses.find_places import PlacesFound, ShownPlace, search_places
from marram.rulebook.book import Book, know_each_other, open_book
from marram.rulebook.differences.compare import look_up
from marram.rulebook.differences.reach import procedures_altered
from marram.rulebook.differences.told_change import tell_change
from marram.rulebook.overlays.overlay import Change, Overlay
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.case.case import Case
from marram.rulings.case.incident import Player
from marram.rulings.rule_on import rule_on
from marram.sheets.guide.content import ChangeTold, Guide, GuidePage
from marram.sheets.guide.frames import only_option
from marram.sheets.guide.plan_of_places import draw_plan
from marram.sheets.guide.procedure_page import Showing, Under, make_page, rules_told
from marram.showing.forbidden import Carried, forbidden_by

_SITUATION = "situation."
TRIED_FOR_WORDS = 2
"""So many procedures are tried for a change that none states itself: any that is dropped tells how a ball is dropped."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A procedure with the place found for it."""

    procedure: str
    found: PlacesFound
    place: ShownPlace


class _Chooser:
    """Finds places for procedures and keeps what was found and what was not."""

    def __init__(self, course: Course, before: Book | None, now: Book, player: Player, work: Work) -> None:
        self.course, self.before, self.now, self.player, self.work = course, before, now, player, work
        self.shown: dict[str, Shown] = {}
        self.not_shown: list[str] = []
        self.tried: set[str] = set()

    def ask(self, procedures: Sequence[str]) -> None:
        """Show just these."""
        for name in procedures:
            why_none = self._try(name)
            if why_none:
                self.not_shown.append(f"{name.replace('-', ' ')}: {why_none}")

    def choose(self, change: Change, altered: Sequence[str], each: int) -> None:
        """Show the first procedures that a change alters and that the course has a place for, under different titles if it can."""
        kept, why = [name for name in altered if name in self.shown], ""
        for name in (*self._apart(altered), *altered):
            if len(kept) >= each:
                return
            if name not in kept and name not in self.tried:
                why_none = self._try(name)
                kept += [] if why_none else [name]
                why = why or (f"{name.replace('-', ' ')}: {why_none}" if why_none else "")
        if altered and not kept:
            self.not_shown.append(f"Change {change.number}: {why}")
        elif not altered and not kept:
            self.not_shown.append(f"Change {change.number} alters no relief procedure; it is told in words above.")

    def tell(self, change: Change) -> tuple[str, ...]:
        """Show a procedure whose words rest on a change of what no procedure states itself, such as how a ball is dropped.

        Returns:
            The procedure, where one of the first that come up cites the change.
        """
        for name in (*self.shown, *self._apart(list(_told_in_order(self.now)))[:TRIED_FOR_WORDS]):
            was_shown = name in self.shown
            if not was_shown and self._try(name):
                continue
            if self._cites(name, change):
                return (name,)
            if not was_shown:
                del self.shown[name]
                self.tried.discard(name)
        return ()

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
            first.setdefault(title_of(self.now, name), name)
        shown = {title_of(self.now, name) for name in self.shown}
        return [name for title, name in first.items() if title not in shown]

    def _try(self, name: str) -> str:
        """Find a place for a procedure; why there is none, or empty."""
        self.tried.add(name)
        found = self._find(name)
        if found.places:
            self.shown[name] = Shown(procedure=name, found=found, place=found.places[0])
        return found.why_none

    def _find(self, name: str) -> PlacesFound:
        """A place where both books give the procedure; where the book before does not, one where the book now does."""
        if self.before is not None:
            found = search_places(self.course, name, (self.before, self.now), player=self.player, count=1, work=self.work)
            if found.places:
                return found
        return search_places(self.course, name, (self.now,), player=self.player, count=1, work=self.work)


def base_of(overlay: Overlay) -> str:
    """The edition that a trial lies on where none is named: the latest published one that it is written for."""
    editions = packaged_catalogue().editions
    published = [name for name, edition in editions.items() if not edition.is_draft and (not overlay.on or name in overlay.on)]
    return (published or list(overlay.on))[-1]


def guide_trial(
    course: Course, base: Book, overlay: Overlay, *, player: Player, each: int, procedures: Sequence[str], work: Work | None = None
) -> Guide:
    """Make the guide of a trial.

    Args:
        course: The course.
        base: The edition, or edition with overlays, that the trial lies on.
        overlay: The trial.
        player: The player who shows the procedures.
        each: How many procedures are shown for each change at most.
        procedures: Procedures to show instead of choosing for each change; empty to choose.
        work: Told how far it is; it may be stopped.
    """
    base, trial = know_each_other((base, open_book(base.edition, [*base.overlays, overlay], base.catalogue)))
    alters = {change.number: _altered_by(base, overlay, change) for change in overlay.changes}
    chooser = _Chooser(course, base, trial, player, work or Work())
    chooser.ask(procedures)
    for change in () if procedures else overlay.changes:
        alters[change.number] = alters[change.number] or chooser.tell(change)
        chooser.choose(change, alters[change.number], each)
    pages = [_page(base, trial, overlay, alters, entry) for entry in chooser.shown.values()]
    changes = tuple(_change_told(base, change, alters[change.number]) for change in overlay.changes)
    return _guide(overlay.title, chooser, pages, changes)


def guide_procedures(
    course: Course, books: Sequence[Book], procedures: Sequence[str], *, player: Player, work: Work | None = None
) -> Guide:
    """Make sheets of procedures under one book, or under a book before and a book now.

    Args:
        course: The course.
        books: One book, or the book before and the book now.
        procedures: Names of the procedures' rows.
        player: The player who shows them.
        work: Told how far it is; it may be stopped.
    """
    before, now = (books[0] if len(books) > 1 else None), books[-1]
    chooser = _Chooser(course, before, now, player, work or Work())
    chooser.ask(procedures)
    pages = [make_page(_showing(before, now, entry, lead=(), because=())) for entry in chooser.shown.values()]
    return _guide(now.title, chooser, pages, ())


def tell_trial(base: Book, overlay: Overlay) -> Guide:
    """The sheet of a whole trial in words, without a course.

    Args:
        base: The book that the trial lies on.
        overlay: The trial.
    """
    base, trial = know_each_other((base, open_book(base.edition, [*base.overlays, overlay], base.catalogue)))
    return Guide(
        title=overlay.title,
        course="",
        accuracy="",
        attribution="",
        book=trial.name,
        stamp=trial.stamp,
        changes=tuple(_change_told(base, change, _altered_by(base, overlay, change)) for change in overlay.changes),
        pages=(),
        plan=None,
        not_shown=(),
    )


def _guide(title: str, chooser: _Chooser, pages: Sequence[GuidePage], changes: tuple[ChangeTold, ...]) -> Guide:
    course, book = chooser.course, chooser.now
    accuracy = "survey accuracy unknown" if course.sigma_m is None else f"survey ±{ACCURACY_SIGMAS * course.sigma_m:.2f} m"
    return Guide(
        title=title,
        course=course.name,
        accuracy=accuracy,
        attribution=course.attribution,
        book=book.name,
        stamp=book.stamp,
        changes=changes,
        pages=tuple(pages),
        plan=draw_plan(course, [entry.place.at for entry in chooser.shown.values()]),
        not_shown=tuple(chooser.not_shown),
    )


# Which procedures to show --------------------------------------------------------------------------------------------


def _altered_by(base: Book, overlay: Overlay, change: Change) -> tuple[str, ...]:
    """The procedures that one change alters, those that come up most openly first: in the order of the situations."""
    alone = open_book(base.edition, [*base.overlays, replace(overlay, changes=(change,))], base.catalogue)
    order = {name: number for number, name in enumerate(_told_in_order(base))}
    return tuple(sorted(procedures_altered(base, alone), key=lambda name: order.get(name, len(order))))


def _told_in_order(book: Book) -> Iterator[str]:
    """Procedures in the order in which the situations name them: the first of each situation, then the second of each."""
    rows = [row.id for row in book.catalogue.rows.values() if row.id.startswith(_SITUATION) and book.has_row(row.id)]
    turns = zip_longest(*(book.words(f"{row}.procedures").value for row in rows))
    yield from dict.fromkeys(name for turn in turns for name in turn if name is not None)


def title_of(book: Book, procedure: str) -> str:
    """What a book calls a procedure."""
    key = f"relief.{procedure}.title"
    return book.word(key).value if book.has(key) else procedure.replace("-", " ")


# Writing the pages ---------------------------------------------------------------------------------------------------


def _page(base: Book, trial: Book, overlay: Overlay, alters: dict[int, tuple[str, ...]], entry: Shown) -> GuidePage:
    changes = [change for change in overlay.changes if entry.procedure in alters[change.number]]
    lead = tuple(f"Change {change.number}: {_was_now(base, change)}." for change in changes)
    return make_page(_showing(base, trial, entry, lead=lead, because=tuple(change.because for change in changes)))


def _was_now(book: Book, change: Change) -> str:
    told = tell_change(book, change)
    return f"{told.before} before, {told.now} now"


def _showing(before: Book | None, now: Book, entry: Shown, *, lead: tuple[str, ...], because: tuple[str, ...]) -> Showing:
    place, course = entry.place, entry.found.course.with_conditions(entry.place.incident.conditions)
    own = next(shown for book, shown in zip(entry.found.books, place.under, strict=True) if book is now)
    earlier = None
    if before is not None:
        option = next((shown.option for book, shown in zip(entry.found.books, place.under, strict=True) if book is before), None)
        ruling = rule_on(place.incident, course, before)
        earlier = Under(book=before, ruling=ruling, option=option)
    return Showing(
        name=entry.procedure,
        course=course,
        incident=place.incident,
        place=place_words(entry.found, place),
        before=earlier,
        now=Under(book=now, ruling=own.ruling, option=own.option),
        lead=lead,
        because=because,
    )


def place_words(found: PlacesFound, place: ShownPlace) -> str:
    """Where a place is, as an official tells it."""
    hole, along = f"hole {place.incident.hole}", found.along(place)
    about = place.spot.noun if place.spot.feature.startswith("hole ") else f"{place.spot.feature} ({place.spot.noun})"
    if along is None:
        return f"{hole}, {about}"
    before, right = along.before_green_m, along.right_m
    ahead = f"{before:.0f} m before the green" if before >= 0 else f"{-before:.0f} m beyond the front of the green"
    return f"{hole}, {about}, {ahead}, {abs(right):.0f} m {'right' if right >= 0 else 'left'} of the line of play"


def _change_told(base: Book, change: Change, altered: Sequence[str]) -> ChangeTold:
    row, spec = base.catalogue.find_key(change.key)
    told = tell_change(base, change)
    return ChangeTold(
        number=change.number,
        key=change.key,
        means=f"{row.means.rstrip('.')}: {spec.means}.",
        before=_capital(told.before),
        now=told.now,
        because=change.because,
        standing=change.standing.value,
        asks=change.asks,
        procedures=tuple(dict.fromkeys(title_of(base, name) for name in altered)),
        rules=rules_told(look_up(base, change.key).citations),
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
