"""Make the guide for players: choose places on the course, rule there under the book before and the book now, write the pages."""

from __future__ import annotations

from collections.abc import Sequence

from marram.core.work import Work
from marram.course.course import Course
from marram.course.joining import ACCURACY_SIGMAS
from marram.office.courses.find_places import PlacesFound, ShownPlace
from marram.office.trials.choose_shown import Chooser, Shown, altered_by
from marram.rulebook.book import Book, know_each_other, open_book
from marram.rulebook.differences.change_heading import change_heading, relief_title, touched_words
from marram.rulebook.differences.compare import look_up
from marram.rulebook.differences.told_change import tell_change
from marram.rulebook.overlays.overlay import Change, Overlay, Standing
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.case.incident import Player
from marram.rulings.rule_on import rule_on
from marram.sheets.guide.content import ChangeTold, Guide, GuidePage
from marram.sheets.guide.plan_of_places import draw_plan
from marram.sheets.guide.procedure_page import Showing, Under, make_page, rules_told

_STANDING = {
    Standing.LOCAL_RULE: "A Committee may adopt it as a local rule.",
    Standing.UNOFFICIAL: "It holds in rounds of this trial alone: no local rule of the edition allows it.",
}


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
    alters = {change.number: altered_by(base, overlay, change) for change in overlay.changes}
    chooser = Chooser(course, base, trial, player, work or Work())
    chooser.ask(procedures)
    # What a procedure states itself comes first: its pages may tell the other changes as well.
    for change in () if procedures else sorted(overlay.changes, key=lambda change: not alters[change.number]):
        chooser.choose(change, alters[change.number] or chooser.tell(change), each)
    shown = {change.number: alters[change.number] or chooser.told_by(change) for change in overlay.changes}
    pages = [_page(base, overlay, shown, entry, trial) for entry in chooser.shown.values()]
    changes = tuple(_change_told(base, trial, change, alters[change.number], chooser, shown[change.number]) for change in overlay.changes)
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
    chooser = Chooser(course, before, now, player, work or Work())
    chooser.ask(procedures)
    pages = [make_page(_showing(before, now, entry, ())) for entry in chooser.shown.values()]
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
        book_title=trial.title,
        stamp=trial.stamp,
        changes=tuple(_change_told(base, trial, change, altered_by(base, overlay, change)) for change in overlay.changes),
        pages=(),
        plan=None,
        not_shown=(),
    )


def _guide(title: str, chooser: Chooser, pages: Sequence[GuidePage], changes: tuple[ChangeTold, ...]) -> Guide:
    course, book = chooser.course, chooser.now
    accuracy = "survey accuracy unknown" if course.sigma_m is None else f"survey ±{ACCURACY_SIGMAS * course.sigma_m:.2f} m"
    return Guide(
        title=title,
        course=course.name,
        accuracy=accuracy,
        attribution=course.attribution,
        book=book.name,
        book_title=book.title,
        stamp=book.stamp,
        changes=changes,
        pages=tuple(pages),
        plan=draw_plan(course, [entry.place.at for entry in chooser.shown.values()]),
        not_shown=tuple(chooser.not_shown),
    )


# Writing the pages ---------------------------------------------------------------------------------------------------


def _page(base: Book, overlay: Overlay, shown: dict[int, tuple[str, ...]], entry: Shown, trial: Book) -> GuidePage:
    changes = [change for change in overlay.changes if entry.procedure in shown[change.number]]
    return make_page(_showing(base, trial, entry, [(change, change_heading(base, change)) for change in changes]))


def _showing(before: Book | None, now: Book, entry: Shown, changes: Sequence[tuple[Change, str]]) -> Showing:
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
        lead=tuple(f"Change {change.number}: {heading[:1].lower()}{heading[1:]}." for change, heading in changes),
        because=tuple(change.because for change, _ in changes),
        asks=tuple(dict.fromkeys(question for change, _ in changes for question in change.asks)),
    )


def place_words(found: PlacesFound, place: ShownPlace) -> str:
    """Where a place is, as an official tells it."""
    hole, along = f"hole {place.incident.hole}", found.along(place)
    about = place.spot.noun if place.spot.feature.startswith("hole ") else f"the {place.spot.noun}"
    if along is None:
        return f"{hole}, {about}"
    before, right = along.before_green_m, along.right_m
    ahead = f"{before:.0f} m before the green" if before >= 0 else f"{-before:.0f} m beyond the front of the green"
    return f"{hole}, {about}, {ahead}, {abs(right):.0f} m {'right' if right >= 0 else 'left'} of the line of play"


def _change_told(
    base: Book, trial: Book, change: Change, altered: Sequence[str], chooser: Chooser | None = None, shown_by: Sequence[str] = ()
) -> ChangeTold:
    """A change, with where it is shown; none is shown where nobody chose."""
    row, spec = base.catalogue.find_key(change.key)
    told = tell_change(base, change)
    numbers = {name: number for number, name in enumerate(chooser.shown if chooser else (), start=1)}
    return ChangeTold(
        number=change.number,
        key=change.key,
        heading=change_heading(base, change),
        about=told.about,
        means=f"{row.means.rstrip('.')}: {spec.means}.",
        before=_capital(told.before),
        now=told.now,
        because=change.because,
        standing=change.standing.value,
        standing_told=_STANDING[change.standing],
        asks=change.asks,
        procedures=tuple(dict.fromkeys(relief_title(trial, name) for name in altered)),
        touches=touched_words(trial, altered),
        sheets=tuple(numbers[name] for name in numbers if name in shown_by),
        not_shown=chooser.not_drawn.get(change.number, "") if chooser else "",
        rules=rules_told(look_up(base, change.key).citations),
    )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
