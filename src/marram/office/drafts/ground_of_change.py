"""What one change does on a real place of a course: a ball of the folder or one that is looked for, ruled before and now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from marram.core.errors import MarramError
from marram.office.at_desk.stated_case import incident_stated
from marram.office.drafts.what_it_touches import trial_of
from marram.office.drawing_asked import ask_drawing
from marram.office.open_course import OpenCourse
from marram.office.play.give_ruling import Rulings, draw_ruling, give_rulings
from marram.rulebook.book import Book, know_each_other, open_book
from marram.rulebook.overlays.overlay import Change
from marram.rulings.case.incident import Incident, Player
from marram.rulings.case.ruling import Option
from marram.showing.choice import choose_candidates, openings_in_turn
from marram.showing.openings import find_openings
from marram.showing.standing import see_ground

_MOST_LOOKED_FOR, _MOST_TRIED = 3, 8
"""So many procedures are looked for, and so many spots ruled on for each: somebody waits for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnGround:
    """One ball under the book before and the book with the change.

    Attributes:
        title: What the ball is called; empty for one that was looked for.
        members: Members of its incident, as a file has them; empty for one that was looked for.
        rulings: The rulings, before and now.
        procedure: The procedure that is compared.
        option: The name of its option in the ruling that leads the drawing.
        before_m2: Relief area before, square metres; None where there is none.
        now_m2: Relief area now, likewise.
        is_before: Whether the book before gives the procedure there.
        is_now: Whether the book with the change does.
    """

    title: str
    members: Mapping[str, object]
    rulings: Rulings
    procedure: str
    option: str
    before_m2: float | None
    now_m2: float | None
    is_before: bool
    is_now: bool


def books_apart(book: Book, change: Change, name: str) -> tuple[Book, Book]:
    """A book, and the same with one change, opened together.

    Args:
        book: The book.
        change: The change.
        name: What the second is called after its plus.

    Raises:
        RuleDataError: The change does not fit the book.
    """
    before, now = know_each_other((book, open_book(book.edition, [*book.overlays, trial_of(book, change, name)], book.catalogue)))
    return before, now


def on_written_balls(
    written: Mapping[str, Mapping[str, object]],
    opened: OpenCourse,
    books: tuple[Book, Book],
    situations: Sequence[str],
    procedures: Sequence[str],
) -> Iterator[OnGround]:
    """The written balls of a folder at which a change can be seen, in their order.

    Args:
        written: Members of each written incident, by the name of its file.
        opened: The course as it is today.
        books: The book before and the book now.
        situations: Situations that the change touches.
        procedures: Procedures that it alters.
    """
    for name, members in written.items():
        if members.get("situation") not in situations:
            continue
        try:
            incident = incident_stated(members, opened, books)
        except MarramError:
            continue  # a ball of another course
        found = _compared(str(members.get("title", name)), members, incident, opened, books, procedures)
        if found is not None:
            yield found


def on_found_ball(opened: OpenCourse, books: tuple[Book, Book], procedures: Sequence[str]) -> OnGround | None:
    """A ball that is looked for, at the first good spot at which a change can be seen; None where a short look finds none.

    Args:
        opened: The course as it is today.
        books: The book before and the book now.
        procedures: Procedures that the change alters.
    """
    ground, player = see_ground(opened.course), Player()
    for name in procedures[:_MOST_LOOKED_FOR]:
        for turn in openings_in_turn(find_openings(opened.course, books[1], name)):
            for _, incident in choose_candidates(turn, ground, books, player)[:_MOST_TRIED]:
                found = _compared("", {}, incident, opened, books, procedures)
                if found is not None:
                    return found
    return None


def _compared(
    title: str, members: Mapping[str, object], incident: Incident, opened: OpenCourse, books: tuple[Book, Book], procedures: Sequence[str]
) -> OnGround | None:
    """A ball under both books; None where nothing of the change is seen there."""
    try:
        rulings = give_rulings(incident, opened, books)
    except MarramError:
        return None
    before, now = (one.ruling.options for one in rulings.given)
    for name in procedures:
        pair = _option(before, name), _option(now, name)
        if any(pair):
            areas = [None if option is None or option.relief_area is None else option.relief_area.area_m2 for option in pair]
            return OnGround(
                title=title,
                members=members,
                rulings=rulings,
                procedure=name,
                option=next(option.name for option in pair if option is not None),
                before_m2=areas[0],
                now_m2=areas[1],
                is_before=pair[0] is not None,
                is_now=pair[1] is not None,
            )
    return None


def _option(options: Sequence[Option], procedure: str) -> Option | None:
    return next((option for option in options if procedure in {option.procedure, option.carried_out_as}), None)


WIDE_PX, NARROW_PX = 386.0, 340.0
"""The drawing beside a change, and made anew for a phone."""


def draw_on_ground(place: OnGround) -> tuple[str, ...]:
    """Both rulings of a place in one drawing, at one scale, for a wide page and for a phone."""
    widths = {"ground": WIDE_PX, "ground-narrow": NARROW_PX}
    renderings = (ask_drawing(is_map_alone=True, on_page=name, width_px=width_px) for name, width_px in widths.items())
    # Where the book before gives nothing there is nothing to lay beside it, and the window is that of what is given now.
    rulings = place.rulings if place.is_before else replace(place.rulings, given=place.rulings.given[-1:])
    return tuple(draw_ruling(rulings, rendering=rendering, about=place.option) for rendering in renderings)
