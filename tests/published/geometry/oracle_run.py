"""Program and oracle compared on all kinds of course; prints the rows of the table in docs/accuracy.md.

``python -m tests.published.geometry.oracle_run [incidents of each kind] [part of a kind's name]``
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence

from marram.interchange.course_geojson import parse_course
from tests.published.geometry.oracle.answers import Oracle
from tests.published.geometry.oracle.editions import EDITIONS
from tests.published.geometry.oracle.ground import Ground
from tests.published.geometry.oracle_comparison import Comparison, Tally
from tests.published.geometry.oracle_courses import KINDS, PATHS, REAL_KINDS, courses
from tests.published.geometry.oracle_incidents import ON_PATHS, USUAL_SHARES, Incidents

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


def compare_on(text: str, source: Incidents, incidents: int, tally: Tally, tell: Tell = _silent) -> None:
    """Put random incidents on one course to both, under every edition."""
    ground = source.ground
    if ground.boundary.is_empty or not ground.holes:
        return  # such a course can be read, and nothing can be ruled on it
    oracle, comparison = Oracle(ground), Comparison(parse_course(text, where="course"), tally)
    for number in range(incidents):
        asked = source.draw()
        tally.asked += 1
        for edition in EDITIONS:
            for found in comparison.compare(asked, edition, oracle.answer(asked, edition)):
                tell(f"incident {number}, {asked.situation}: {found.edition} {found.procedure}: {found.what}: {found.text}")


def compare_kind(kind: str, incidents: int, tell: Tell = _silent) -> Tally:
    """All courses of a kind, with so many incidents in all."""
    tally, seeds = Tally(), 1 if kind in REAL_KINDS else ODD_COURSES
    for seed, text in courses(kind, seeds):
        source = Incidents(Ground(text), seed, ON_PATHS if kind == PATHS else USUAL_SHARES)
        compare_on(text, source, incidents // seeds, tally, lambda line, seed=seed: tell(f"course {seed}, {line}"))  # type: ignore[misc]
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
    incidents, wanted = int(words[0]) if words else 200, words[1] if len(words) > 1 else ""
    for kind in KINDS:
        if wanted in kind:
            print(row(kind, compare_kind(kind, incidents, tell=lambda line, kind=kind: print(f"{kind}: {line}"))), flush=True)  # type: ignore[misc]


if __name__ == "__main__":
    main(sys.argv[1:])
