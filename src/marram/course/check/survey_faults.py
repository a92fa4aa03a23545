"""What the survey does not know: marks, widths, accuracy, and what the source held besides."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from marram.core.terms import FeatureKind, Mark
from marram.core.words import counted
from marram.course.check.fault_places import HolesNear, inner_point, listed
from marram.course.check.faults import Fault, FaultKind, LeftOut
from marram.course.course import Course
from marram.course.features import Feature

_OF_WHOLE = frozenset({"place", "outline"})
"""Assumptions that have a fault of their own."""


def check_survey(course: Course, left_out: Sequence[LeftOut], near: HolesNear) -> Iterator[Fault]:
    """Unmarked water, what was assumed, accuracy unknown, zones that serve nothing, what was left out."""
    yield from _unmarked(course, near)
    yield from _assumed(course)
    yield from _accuracy(course)
    yield from _zones(course)
    for entry in left_out:
        yield Fault(
            kind=FaultKind.LEFT_OUT,
            feature="",
            at=None,
            message=f"Left out on import: {entry.what} ({len(entry.names)}), because {entry.why}: {listed(entry.names)}.",
            remedy="Nothing to do where that is right; else draw them.",
            stops_rulings=False,
        )


def _unmarked(course: Course, near: HolesNear) -> Iterator[Fault]:
    for feature in course.of_kind(FeatureKind.PENALTY_AREA):
        if feature.mark is Mark.UNMARKED:
            proposed = "" if feature.proposed is None else f" Its source suggests {feature.proposed.value}."
            name, size = feature.id, f"{feature.noun}, {feature.geometry.area:.0f} m²"
            yield Fault(
                kind=FaultKind.UNMARKED_WATER,
                feature=name,
                at=inner_point(feature.geometry),
                message=f"{name} ({size}) is not marked, so nobody knows which relief it gives.{proposed}",
                remedy=(
                    f"Decide, and mark it on the ground: `survey_course(source=SOURCE, marks={name}=red)` (or yellow), or `marks=all=red`."
                ),
                stops_rulings=False,
                holes=near.holes_of(feature),
            )


def _assumed(course: Course) -> Iterator[Fault]:
    """One fault for everything that was assumed alike, not one for each path."""
    alike: dict[tuple[str, str], list[Feature]] = {}
    for feature in course.features:
        for name, words in feature.assumed:
            if name not in _OF_WHOLE:
                alike.setdefault((name, words), []).append(feature)
    for (name, words), features in alike.items():
        names = listed([feature.id for feature in features])
        yield Fault(
            kind=FaultKind.WIDTH_ASSUMED,
            feature=features[0].id,
            at=inner_point(features[0].geometry),
            message=f"The {name} of {counted(len(features), 'feature')} was not surveyed but assumed ({words}): {names}.",
            remedy="Measure on the ground before anything hangs on their edges; a walk along the edge brings them in as they are.",
            stops_rulings=False,
        )


def _accuracy(course: Course) -> Iterator[Fault]:
    places = [feature for feature in course.features if feature.kind is not FeatureKind.LINE_OF_PLAY]
    unknown = [feature for feature in places if feature.sigma_m is None]
    if not unknown:
        return
    is_whole = len(unknown) == len(places)
    of = "the whole survey" if is_whole else counted(len(unknown), "feature")
    names = "" if is_whole else f" ({listed([feature.id for feature in unknown])})"
    yield Fault(
        kind=FaultKind.ACCURACY_UNKNOWN,
        feature=unknown[0].id if names else "",
        at=None,
        message=f"The accuracy of {of} is not known{names}, so every ruling there says: measure on the ground.",
        remedy="State one standard deviation in metres: `survey_course(source=SOURCE, sigma_m=1)`, or sigma_m in the course file.",
        stops_rulings=False,
    )


def _zones(course: Course) -> Iterator[Fault]:
    names = {feature.id for feature in course.features}
    for zone in course.of_kind(FeatureKind.DROPPING_ZONE):
        if zone.serves and zone.serves not in names:
            yield Fault(
                kind=FaultKind.SERVES_NO_HOLE,
                feature=zone.id,
                at=inner_point(zone.geometry),
                message=f"{zone.id} is given for {zone.serves}, which is nowhere in the survey.",
                remedy="Name the penalty area or condition that it serves.",
                stops_rulings=False,
                holes=zone.holes,
            )
