"""Faults of the holes: what each lacks, and what serves none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from shapely.geometry import Point

from marram.core.terms import FeatureKind
from marram.core.words import counted
from marram.course.check.fault_places import inner_point
from marram.course.check.faults import Fault, FaultKind
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.holes import Hole, likely_round

ON_GREEN_M, ON_TEE_M = 1.0, 5.0
"""A line of play ends this near its green and begins this near a tee (common practice)."""
_PARS = range(3, 7)
_SERVE = (FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA, FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION)
_ONE_ONLY = (FeatureKind.PUTTING_GREEN, FeatureKind.LINE_OF_PLAY, FeatureKind.HOLE_LOCATION)
"""Of these a hole has one; Marram takes the first."""
_BY_HAND = "Say which hole it serves: `number_holes(course=COURSE, stated={name}=N, out=COURSE)`."
_NUMBER_ALL = "Let them be numbered, and confirm: `number_holes(course=COURSE, propose)`."
_DRAW_LINE = "Draw the line from the back tee to the middle of the green."
_GIVE_PAR = "Add it with a spreadsheet of tees: `survey_course(source=TEES.xlsx, kind=tees, onto=COURSE)`."


def check_holes(course: Course) -> Iterator[Fault]:
    """What the holes lack, and what belongs to no hole."""
    yield from _missing_holes(course)
    for hole in course.holes.values():
        yield from _hole(course, hole)
    yield from _missing_par([hole for hole in course.holes.values() if hole.line is not None and hole.par is None])
    for kind in _SERVE:
        yield from _strays(course, kind)


def _missing_holes(course: Course) -> Iterator[Fault]:
    numbers = list(course.holes)
    waiting = [feature for kind in _ONE_ONLY for feature in course.of_kind(kind) if not feature.holes]
    if not numbers and not waiting:
        yield _no_hole_at_all()
        return
    most = _round_of(course, numbers)
    missing = tuple(number for number in range(1, most + 1) if number not in numbers)
    if missing:
        without = f" {_nouns(waiting)} there serve no hole yet." if waiting else ""
        yield Fault(
            kind=FaultKind.MISSING_HOLE,
            feature="",
            at=None,
            message=f"Of {most} holes, {_are(missing)} nowhere in the survey: {_listed(missing)}.{without}",
            remedy=_NUMBER_ALL if waiting else "Draw or walk greens, tees and lines of play, and number them.",
            stops_rulings=True,
            holes=missing,
        )


def _are(missing: Sequence[int]) -> str:
    return "1 is" if len(missing) == 1 else f"{len(missing)} are"


def _no_hole_at_all() -> Fault:
    return Fault(
        kind=FaultKind.MISSING_HOLE,
        feature="",
        at=None,
        message="The survey holds no hole: there is no putting green, line of play or hole location.",
        remedy="Draw or walk greens, tees and lines of play, and number them; without holes nothing can be ruled on.",
        stops_rulings=True,
    )


def _round_of(course: Course, numbers: Sequence[int]) -> int:
    """How many holes the course has: as the numbers say, and where some are missing, as the greens or lines without a number say."""
    highest = max(numbers, default=0)
    if len(numbers) == likely_round(highest, least=highest):
        return len(numbers)
    there = max(sum(max(1, len(feature.holes)) for feature in course.of_kind(kind)) for kind in _ONE_ONLY)
    return likely_round(there, least=highest)


def _nouns(features: Sequence[Feature]) -> str:
    counts = Counter(feature.kind.value.replace("-", " ") for feature in features)
    return ", ".join(counted(count, noun) for noun, count in counts.items())


def _missing_par(holes: Sequence[Hole]) -> Iterator[Fault]:
    if holes:
        numbers = tuple(hole.number for hole in holes)
        message = f"{counted(len(holes), 'line of play')} without a par, on hole{'s' * (len(numbers) != 1)} {_listed(numbers)}."
        yield Fault(kind=FaultKind.PAR, feature="", at=None, message=message, remedy=_GIVE_PAR, stops_rulings=False, holes=numbers)


def _listed(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers))


def _hole(course: Course, hole: Hole) -> Iterator[Fault]:
    mine = [feature for feature in course.features if hole.number in feature.holes]
    tees = [feature for feature in mine if feature.kind is FeatureKind.TEEING_AREA]
    at = _place(hole, mine)
    if hole.green is None:
        yield _lacks(hole, at, FaultKind.MISSING_GREEN, "putting green", "a ball on it would be ruled as in the general area", stops=True)
    if hole.location is None:
        yield _lacks(hole, at, FaultKind.MISSING_LOCATION, "hole location", "nothing can be measured from the hole", stops=True)
    if hole.line is None:
        yield _lacks(hole, at, FaultKind.MISSING_LINE, "line of play", "places along the hole cannot be told", stops=False)
    if not tees:
        yield _lacks(hole, at, FaultKind.MISSING_TEE, "teeing area", "stroke and distance cannot go back to one", stops=False)
    for kind in _ONE_ONLY:
        yield from _several(hole, [feature for feature in mine if feature.kind is kind])
    yield from _line(hole, tees)
    yield from _location(course, hole, mine)


def _place(hole: Hole, mine: Sequence[Feature]) -> Position | None:
    return hole.location or (inner_point(mine[0].geometry) if mine else None)


def _several(hole: Hole, alike: Sequence[Feature]) -> Iterator[Fault]:
    if len(alike) > 1:
        noun = alike[0].kind.value.replace("-", " ")
        names = ", ".join(feature.id for feature in alike)
        yield Fault(
            kind=FaultKind.SEVERAL_FOR_HOLE,
            feature=alike[1].id,
            at=inner_point(alike[1].geometry),
            message=f"Hole {hole.number} has more than one {noun}: {names}. Only {alike[0].id} is used.",
            remedy="Leave in the file the one that is played, or give the other its own hole.",
            stops_rulings=False,
            holes=(hole.number,),
        )


def _lacks(hole: Hole, at: Position | None, kind: FaultKind, what: str, so: str, *, stops: bool) -> Fault:
    return Fault(
        kind=kind,
        feature=f"hole {hole.number}",
        at=at,
        message=f"Hole {hole.number} has no {what}: {so}.",
        remedy=f"Draw or walk it, or say which feature is it: `number_holes(course=COURSE, stated=NAME={hole.number}, out=COURSE)`.",
        stops_rulings=stops,
        holes=(hole.number,),
    )


def _line(hole: Hole, tees: Sequence[Feature]) -> Iterator[Fault]:
    if hole.line is None:
        return
    start, end = Point(hole.line.coords[0]), Point(hole.line.coords[-1])
    if hole.green is not None and (off_m := hole.green.geometry.distance(end)) > ON_GREEN_M:
        message = f"The line of play of hole {hole.number} ends {off_m:.1f} m from its green."
        yield _line_fault(FaultKind.LINE_OFF_GREEN, end, message, hole.number, _DRAW_LINE)
    if tees and (off_m := min(tee.geometry.distance(start) for tee in tees)) > ON_TEE_M:
        message = f"The line of play of hole {hole.number} begins {off_m:.1f} m from its nearest tee."
        yield _line_fault(FaultKind.LINE_OFF_TEE, start, message, hole.number, _DRAW_LINE)
    if hole.par is not None and hole.par not in _PARS:
        message = f"Hole {hole.number} has par {hole.par}, which is outside 3 to 6."
        yield _line_fault(FaultKind.PAR, end, message, hole.number, _GIVE_PAR)


def _line_fault(kind: FaultKind, at: Point, message: str, number: int, remedy: str) -> Fault:
    return Fault(
        kind=kind,
        feature=f"hole {number}",
        at=Position(x_m=at.x, y_m=at.y),
        message=message,
        remedy=remedy,
        stops_rulings=False,
        holes=(number,),
    )


def _location(course: Course, hole: Hole, mine: Sequence[Feature]) -> Iterator[Fault]:
    feature = next((entry for entry in mine if entry.kind is FeatureKind.HOLE_LOCATION), None)
    if feature is None or hole.location is None:
        return
    words = dict(feature.assumed).get("place")
    if words is not None:
        yield Fault(
            kind=FaultKind.LOCATION_ASSUMED,
            feature=feature.id,
            at=hole.location,
            message=f"Where hole {hole.number} is cut is not surveyed; {words} was taken.",
            remedy="State it: `survey_course(source=LOCATIONS.csv, kind=hole-locations, onto=COURSE)`, or the day's file in `today`.",
            stops_rulings=False,
            holes=(hole.number,),
        )
    yield from _location_in_water(course, hole, feature)
    if hole.green is not None and not hole.green.geometry.covers(feature.geometry):
        off_m = hole.green.geometry.distance(feature.geometry)
        yield Fault(
            kind=FaultKind.LOCATION_OFF_GREEN,
            feature=feature.id,
            at=hole.location,
            message=f"The location of hole {hole.number} lies {off_m:.1f} m off its green.",
            remedy="Measure it anew, or draw the green anew.",
            stops_rulings=True,
            holes=(hole.number,),
        )


def _location_in_water(course: Course, hole: Hole, location: Feature) -> Iterator[Fault]:
    for water in course.of_kind(FeatureKind.PENALTY_AREA):
        if water.geometry.covers(location.geometry):
            yield Fault(
                kind=FaultKind.LOCATION_IN_WATER,
                feature=location.id,
                at=hole.location,
                message=f"The location of hole {hole.number} lies in {water.id} ({water.noun}), which comes before the green there.",
                remedy=f"Measure it anew, or draw {water.id} so that it ends at the green.",
                stops_rulings=True,
                holes=(hole.number,),
            )


def _strays(course: Course, kind: FeatureKind) -> Iterator[Fault]:
    for feature in course.of_kind(kind):
        if not feature.holes:
            yield Fault(
                kind=FaultKind.SERVES_NO_HOLE,
                feature=feature.id,
                at=inner_point(feature.geometry),
                message=f"{feature.id} ({feature.noun}) serves no hole" + _so(kind),
                remedy=_BY_HAND.format(name=feature.id),
                stops_rulings=False,
            )


def _so(kind: FeatureKind) -> str:
    if kind is FeatureKind.PUTTING_GREEN:
        return ", so it is a wrong green whichever hole is played."
    return ", so it is general area." if kind is FeatureKind.TEEING_AREA else "."
