"""The check of a course's marking as text and as a JSON object."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill

from marram.answers.rules.ruling_answer import citation_object, position_object
from marram.core.citations import rules_words
from marram.core.words import counted
from marram.course.along_hole import AlongHole
from marram.course.frame import Frame
from marram.office.check_marking import MarkingCheck, MarkingUnderBook, NotChecked, dropping_zones_of
from marram.relief.marking.edges import FAULTS, MarkingFault
from marram.relief.marking.places import EdgeSum, MarkingPlace
from marram.relief.marking.stakes import WideSpacing
from marram.rulebook.wording.explain import size_with_metres

_WIDTH = 100
_WORDS = {
    MarkingFault.NOWHERE: "nowhere to drop",
    MarkingFault.ONLY_IN_PENALTY_AREA: "next to nothing but another penalty area",
    MarkingFault.ONLY_IN_BUNKER: "next to nothing but a bunker",
    MarkingFault.NO_PLAY_ZONE: "most of the ground is in a no play zone",
    MarkingFault.SMALL: "small",
    MarkingFault.OUT_OF_BOUNDS: "most of the ground is out of bounds",
}
_REMEDIES = {
    MarkingFault.NOWHERE: "Straighten the edge here, or give a dropping zone.",
    MarkingFault.ONLY_IN_PENALTY_AREA: "Mark both as one penalty area, or give a dropping zone.",
    MarkingFault.ONLY_IN_BUNKER: "Give a dropping zone, or let the edge take in the bunker.",
    MarkingFault.NO_PLAY_ZONE: "Draw the zone or the edge back, or give a dropping zone.",
    MarkingFault.SMALL: "Look at it on the ground.",
    MarkingFault.OUT_OF_BOUNDS: "Draw the edge back from the boundary, or give a dropping zone.",
}


def marking_object(check: MarkingCheck) -> dict[str, object]:
    """The check as outsiders read it; the edges of the first book stand at the top as well."""
    frame = check.course.frame
    return {
        "course": check.course.name,
        "longest_club_in": check.longest_club_in,
        "stake_tolerance_m": check.tolerance_m,
        "edges": [_edge_object(edge) for edge in check.under[0].edges],
        "books": [_book_object(check, found, frame) for found in check.under],
        "stakes": [_stakes_object(stretch, frame) for stretch in check.wide_spacing],
        "holes": [_unchecked_object(hole) for hole in check.odd_holes],
        "faults": check.faults,
        "untried": check.is_untried,
    }


def _book_object(check: MarkingCheck, found: MarkingUnderBook, frame: Frame) -> dict[str, object]:
    return {
        "book": found.book.name,
        "stamp": found.book.stamp,
        "size": "" if found.size is None else found.size.words,
        "size_m": None if found.size_m is None else round(found.size_m, 4),
        "edges": [_edge_object(edge) for edge in found.edges],
        "places": [_place_object(check, place, frame) for place in found.places],
        "not_checked": [_unchecked_object(entry) for entry in found.not_checked],
        "why_untried": found.why_untried,
        "citations": [citation_object(citation) for citation in found.citations],
    }


def _edge_object(edge: EdgeSum) -> dict[str, object]:
    return {
        "feature": edge.feature.id,
        "hole": edge.hole,
        "points": edge.points,
        "none": edge.none,
        "small": edge.small,
        "least_m2": round(edge.least_m2, 4),
        "faults": {fault.value: edge.faults[fault] for fault in FAULTS},
    }


def _place_object(check: MarkingCheck, place: MarkingPlace, frame: Frame) -> dict[str, object]:
    along = place.along
    return position_object(frame, place.at) | {
        "fault": place.fault.value,
        "serious": place.is_serious,
        "feature": place.feature.id,
        "hole": place.hole,
        "before_green_m": None if along is None else round(along.before_green_m, 2),
        "right_m": None if along is None else round(along.right_m, 2),
        "points": place.points,
        "extent_m": round(place.extent_m, 2),
        "area_m2": round(place.usable_m2, 4),
        "parts": [{"area": area.value, "area_m2": round(m2, 4)} for area, m2 in place.area_m2.items() if m2 > 5e-5],
        "out_of_bounds_m2": round(place.out_of_bounds_m2, 4),
        "no_play_zone_m2": round(place.zone_m2, 4),
        "same_penalty_area_m2": round(place.own_m2, 4),
        "remedy": _REMEDIES[place.fault],
        "dropping_zones": list(dropping_zones_of(check.course, place.feature)),
    }


def _stakes_object(stretch: WideSpacing, frame: Frame) -> dict[str, object]:
    return position_object(frame, stretch.at) | {
        "feature": stretch.feature.id,
        "gaps": stretch.gaps,
        "spacing_m": round(stretch.spacing_m, 2),
        "radius_m": round(stretch.radius_m, 2),
        "off_m": round(stretch.off_m, 3),
        "wanted_m": round(stretch.wanted_m, 2),
    }


def _unchecked_object(entry: NotChecked) -> dict[str, object]:
    return {"name": entry.name, "because": entry.because}


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
    if found.size is not None and found.size_m is not None:
        club = f", longest club {check.longest_club_in:g} in" if found.size.needs_club else ""
        tried = sum(edge.points for edge in found.edges)
        yield _wrapped(
            f"Lateral relief within {size_with_metres(found.size, found.size_m)}{club}; {counted(tried, 'crossing point')} tried."
        )
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
    remedy = f"The dropping zone {', '.join(zones)} helps." if zones else _REMEDIES[place.fault]
    return (
        f"Hole {place.hole}, {place.feature.id}, {_where(place.along, place)}: {_WORDS[place.fault]}; {place.usable_m2:.2f} m² at worst, "
        f"along {max(place.extent_m, 0.5):.1f} m of edge. {remedy}"
    )


def _small_words(place: MarkingPlace) -> str:
    return f"hole {place.hole} {place.feature.id} {_where(place.along, place)} ({place.usable_m2:.2f} m²)"


def _where(along: AlongHole | None, place: MarkingPlace) -> str:
    if along is None:
        return f"x {place.at.x_m:.1f} m, y {place.at.y_m:.1f} m"
    side = "right" if along.right_m >= 0 else "left"
    before = f"{along.before_green_m:.0f} m before" if along.before_green_m >= 0 else f"{-along.before_green_m:.0f} m past the front of"
    return f"{before} the green, {abs(along.right_m):.0f} m {side}"


def _wrapped(text: str) -> str:
    return fill(text, width=_WIDTH, initial_indent="   ", subsequent_indent="      ")
