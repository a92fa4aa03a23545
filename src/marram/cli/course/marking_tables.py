"""The check of a course's marking for the terminal."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill
from typing import TYPE_CHECKING

from marram.core.citations import rules_words
from marram.core.words import counted
from marram.office.courses.check_marking import dropping_zones_of
from marram.office.courses.marking_words import fault_words, remedy_of

if TYPE_CHECKING:
    from marram.course.along_hole import AlongHole
    from marram.office.courses.check_marking import MarkingCheck, MarkingUnderBook
    from marram.relief.marking.places import MarkingPlace

_WIDTH = 100


def marking_text(check: MarkingCheck) -> str:
    """The check as an official reads it, worst places first."""
    return "\n".join(_lines(check))


def _lines(check: MarkingCheck) -> Iterator[str]:
    yield f"Marking of {check.course.name}"
    for found in check.under:
        yield ""
        yield from _book_lines(check, found)
    if check.wide_spacing:
        yield ""
        yield f"Stakes too far apart for the curve they mark (more than {check.tolerance_m:.2f} m off)"
        for stretch in check.wide_spacing:
            text = (
                f"{stretch.feature.id}: {counted(stretch.gaps, 'gap')} near x {stretch.at.x_m:.1f} m, y {stretch.at.y_m:.1f} m; "
                f"{stretch.spacing_m:.1f} m apart on a curve of {stretch.radius_m:.0f} m, "
                f"up to {stretch.off_m:.2f} m off; {stretch.wanted_m:.1f} m apart would do"
            )
            yield _wrapped(text)
    if check.odd_holes:
        yield ""
        yield "Holes"
        yield from (_wrapped(f"{entry.name}: {entry.because}") for entry in check.odd_holes)
    yield ""
    untried = "Nothing was tried, so this says nothing of the marking." if check.is_untried else ""
    yield " ".join(word for word in (untried, _sum(check)) if word)


def _sum(check: MarkingCheck) -> str:
    if check.faults:
        return f"{counted(check.faults, 'fault')}."
    return "" if check.is_untried else "No fault was found."


def _book_lines(check: MarkingCheck, found: MarkingUnderBook) -> Iterator[str]:
    yield f"{found.book.title}  [{found.book.stamp}]"
    if found.size is not None:
        club = f", longest club {check.longest_club_in:g} in" if found.size.needs_club else ""
        yield _wrapped(f"Lateral relief within {found.size_words}{club}; {counted(found.tried, 'crossing point')} tried.")
    if found.why_untried:
        yield _wrapped(f"Nothing was tried: {found.why_untried}")
    serious = [place for place in found.places if place.is_serious]
    for number, place in enumerate(serious, start=1):
        yield _wrapped(f"{number}. {_place_words(check, place)}")
    small = [place for place in found.places if not place.is_serious]
    if small:
        yield _wrapped(f"Small but usable (under 1 m² besides sand and other water, no fault): {'; '.join(map(_small_words, small))}.")
    for entry in found.not_checked:
        yield _wrapped(f"Not checked: {entry.name}, {entry.because}.")
    yield _wrapped(f"[{rules_words(found.citations)}]")


def _place_words(check: MarkingCheck, place: MarkingPlace) -> str:
    zones = dropping_zones_of(check.course, place.feature)
    remedy = f"The dropping zone {', '.join(zones)} helps." if zones else remedy_of(place)
    return (
        f"Hole {place.hole}, {place.feature.id}, {_where(place.along, place)}: {fault_words(place)}; {place.usable_m2:.2f} m² at worst, "
        f"along {max(place.extent_m, 0.5):.1f} m of edge. {remedy}"
    )


def _small_words(place: MarkingPlace) -> str:
    return f"hole {place.hole} {place.feature.id} {_where(place.along, place)} ({place.usable_m2:.2f} m²)"


def _where(along: AlongHole | None, place: MarkingPlace) -> str:
    return f"x {place.at.x_m:.1f} m, y {place.at.y_m:.1f} m" if along is None else along.words


def _wrapped(text: str) -> str:
    return fill(text, width=_WIDTH, initial_indent="   ", subsequent_indent="      ")
