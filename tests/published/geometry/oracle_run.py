"""Program and oracle compared on all kinds of course; prints the rows of the table in docs/accuracy.md.

``python -m tests.published.geometry.oracle_run [incidents of each kind] [part of a kind's name]``, or with ``grid`` for the number a ball
on each place of a grid of 5 m in every penalty area of the courses that are no odd ones.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from itertools import islice

from marram.interchange.courses.course_geojson import parse_course
from tests.published.geometry.oracle.answers import Oracle
from tests.published.geometry.oracle.asked import Asked
from tests.published.geometry.oracle.editions import EDITIONS
from tests.published.geometry.oracle.ground import Ground
from tests.published.geometry.oracle_comparison import Comparison, Tally
from tests.published.geometry.oracle_courses import KINDS, PATHS, REAL_KINDS, courses, real_course
from tests.published.geometry.oracle_incidents import ON_PATHS, USUAL_SHARES, Incidents, every_ball

ODD_COURSES = 10
_MEASURES = (
    "reference point, m",
    "line, m from the edge of its ground",
    "area, m²",
    "symmetric difference, m²",
    "nearest point, distance m",
    "nearest point, overlap m",
    "area of complete relief, m²",
)


Tell = Callable[[str], None]


def _silent(line: str) -> None:
    pass


def compare_on(text: str, incidents: Iterable[Asked], tally: Tally, tell: Tell = _silent) -> None:
    """Put incidents on one course to both, under every edition."""
    ground = Ground(text)
    comparison = Comparison(parse_course(text, where="course"), Oracle(ground), tally)
    for number, asked in enumerate(incidents):
        tally.asked += 1
        for edition in EDITIONS:
            for found in comparison.compare(asked, edition):
                tell(f"incident {number}, {asked.situation}: {found.edition} {found.procedure}: {found.what}: {found.text}")


def compare_kind(kind: str, incidents: int, tell: Tell = _silent) -> Tally:
    """All courses of a kind, with so many incidents in all."""
    tally, count = Tally(), 1 if kind in REAL_KINDS else ODD_COURSES
    shares = ON_PATHS if kind == PATHS else USUAL_SHARES
    sources = ((seed, text, Incidents(Ground(text), seed, shares)) for seed, text in courses(kind))
    for seed, text, source in islice((each for each in sources if each[2].may_rule), count):
        drawn = (source.draw() for _ in range(incidents // count))
        compare_on(text, drawn, tally, lambda line, seed=seed: tell(f"course {seed}, {line}"))  # type: ignore[misc]
    return tally


def compare_grid(kind: str, step_m: float, tell: Tell = _silent) -> Tally:
    """A ball on each place of a grid in each penalty area of a course that is no odd one."""
    tally, text = Tally(), real_course(kind)
    compare_on(text, every_ball(Ground(text), step_m), tally, tell)
    return tally


def row(kind: str, tally: Tally) -> str:
    """The table's row of a kind of course."""
    offered = sum(found.what == "offered" for found in tally.differences)
    other = sum(found.what not in {"offered", "refused"} for found in tally.differences)
    numbers = [tally.asked, tally.ruled, tally.options, tally.unsure, tally.questions, tally.refused, offered, other]
    largest = [f"{tally.largest.get(what, 0.0):.1e}" for what in _MEASURES]
    return "| " + " | ".join([kind, *map(str, numbers), *largest]) + " |"


def main(words: Sequence[str]) -> None:
    """Compare and print."""
    much, wanted = (*words, *("200", "")[len(words) :])[:2]
    for kind in KINDS if much != "grid" else REAL_KINDS:
        if wanted in kind:
            tell = partial(_tell, kind)
            tally = compare_grid(kind, 5.0, tell) if much == "grid" else compare_kind(kind, int(much), tell)
            print(row(kind, tally), flush=True)


def _tell(kind: str, line: str) -> None:
    print(f"{kind}: {line}", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
