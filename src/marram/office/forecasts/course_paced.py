"""A surveyed course as the pace of play knows it: pars, and the walks from each green to the next tee."""

from __future__ import annotations

from collections.abc import Mapping

from shapely.geometry import Point

from marram.core.errors import StudyError, SurveyError
from marram.course.course import Course
from marram.course.holes import Hole
from marram.simulation.pace.hole_stages import PARS, PacedHole

WALKING_M_S = 1.33
"""Walking speed on level ground (assumption: 4.8 km/h; 4.0 to 5.6 are told)."""
_LONGEST_WALK_M = 3000.0
_FEWEST = 2


def paced_holes(course: Course, *, waves_up: bool) -> tuple[PacedHole, ...]:
    """The holes of a course, in order.

    Args:
        course: The course.
        waves_up: Whether groups are called up on par 3s.

    Raises:
        SurveyError: Holes lack a par, a tee or a green; every one is named.
    """
    holes = course.holes
    if len(holes) < _FEWEST:
        raise SurveyError(
            f"{course.name} has no round to play: {len(holes)} holes.", hint="A hole needs a line of play with par, and a green."
        )
    faults = [fault for hole in holes.values() for fault in _faults(hole)]
    if faults:
        hint = "Give each hole a line of play from its tee, a par of 3, 4 or 5, and a green."
        raise SurveyError("\n  ".join([f"{course.name} cannot be played in a forecast:", *faults]), hint=hint)
    walks = {number: _walk_m(hole, _following(holes, number)) for number, hole in holes.items()}
    far = [f"hole {number}: {walk:.0f} m from its green to the next tee" for number, walk in walks.items() if walk > _LONGEST_WALK_M]
    if far:
        raise SurveyError("\n  ".join(["The holes do not follow each other:", *far]), hint="See that lines of play begin at the tees.")
    return tuple(
        PacedHole(number=number, par=hole.par or 0, walk_on_min=walks[number] / WALKING_M_S / 60, waves_up=waves_up and hole.par == PARS[0])
        for number, hole in holes.items()
    )


def _faults(hole: Hole) -> list[str]:
    told = []
    if hole.line is None:
        told.append(f"hole {hole.number} has no line of play, so no tee")
    if hole.green is None:
        told.append(f"hole {hole.number} has no green")
    if hole.par not in PARS:
        told.append(f"hole {hole.number} has {'no par' if hole.par is None else f'a par of {hole.par}'}")
    return told


def _following(holes: Mapping[int, Hole], number: int) -> Hole:
    numbers = list(holes)
    return holes[numbers[(numbers.index(number) + 1) % len(numbers)]]


def _walk_m(hole: Hole, following: Hole) -> float:
    """From the middle of a green to the back tee of the next hole, straight."""
    if hole.green is None or following.line is None:
        raise StudyError("A walk needs a green and a tee.", where=f"hole {hole.number}")
    return float(hole.green.geometry.centroid.distance(Point(following.line.coords[0])))
