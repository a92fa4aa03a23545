"""The program's ruling held against the oracle's answer: which options are open, and where each of them lets the ball be dropped."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from marram.core.errors import MarramError
from marram.core.terms import Club, Form, Hand, Mark
from marram.course.course import Course
from marram.course.frame import Position
from marram.interchange.books.book_files import read_book
from marram.rulebook.book import Book
from marram.rulings import Choice, Incident, Option, Player, PreviousStroke, Ruling, rule_on
from tests.published.geometry.oracle.answers import Oracle
from tests.published.geometry.oracle.asked import Asked, LonLat
from tests.published.geometry.oracle.editions import EDITIONS
from tests.published.geometry.oracle.expected import Answer, Expected
from tests.published.geometry.oracle.further import also_in_the_way
from tests.published.geometry.oracle.ground import XY, polygons
from tests.published.geometry.oracle.nearest import Relief
from tests.published.geometry.oracle.outlines import further, not_nearer

BOOKS: dict[str, Book] = {name: read_book(name) for name in EDITIONS}
POINT_M, EDGE_M, NEAREST_M = 0.003, 0.004, 0.003
AREA_M2, AREA_FOR_EACH_M = 0.002, 0.002
SLIVER_M2, _TRIED_EVERY_M = 0.012, 0.05
"""Tolerances; docs/accuracy.md says why."""
_NO = ("another_reason_makes_stroke_unreasonable", "interference_only_by_unreasonable_stroke", "embedded_in_sand")


@dataclass(frozen=True, kw_only=True)
class Difference:
    """Something on which program and oracle do not agree."""

    edition: str
    procedure: str
    what: str
    text: str


@dataclass
class Tally:
    """What a run of comparisons came to."""

    asked: int = 0
    ruled: int = 0
    options: int = 0
    unsure: int = 0
    questions: int = 0
    refused: int = 0
    largest: dict[str, float] = field(default_factory=dict)
    differences: list[Difference] = field(default_factory=list)

    def agrees(self, what: str, value: float, tolerance: float) -> bool:
        """Whether something is within tolerance; the largest that is, is kept."""
        if value <= tolerance:
            self.largest[what] = max(self.largest.get(what, 0.0), value)
        return value <= tolerance


def _at(course: Course, place: LonLat | None) -> Position | None:
    return None if place is None else course.frame.to_position(*place)


def _stroke(course: Course, place: LonLat | None) -> PreviousStroke | None:
    return None if place is None else PreviousStroke(at=_at(course, place), area=None)


def incident_of(asked: Asked, course: Course) -> Incident:
    """The same question for the program."""
    facts = dict.fromkeys(_NO, False) | {"dropping_zone_here": False, "on_fairway_height": asked.fairway, "embedded": True}
    facts |= {"not_through_the_green_first": False, "known_in_penalty_area": asked.situation == "penalty-area"}
    return Incident(
        hole=asked.hole,
        situation=asked.situation,
        form=Form.STROKE_PLAY,
        ball=_at(course, asked.ball),
        player=Player(hand=Hand(asked.hand), longest_club_in=asked.club_in, club=Club(asked.club)),
        facts=facts,
        crossed_at=_at(course, asked.crossed_at),
        crossed_mark=None if asked.crossed_mark is None else Mark(asked.crossed_mark),
        previous_stroke=_stroke(course, asked.previous_stroke),
        last_stroke_outside=_stroke(course, asked.last_stroke_outside),
        choice=Choice(back_m=asked.back_m),
    )


@dataclass(frozen=True)
class _Clear:
    """How much ground gives complete relief, and by how much each of many places does."""

    area_m2: float
    tried: NDArray[np.float64]
    inside_m: NDArray[np.float64]


class Comparison:
    """One course in the program's eyes and in the oracle's, with what the comparing came to."""

    def __init__(self, course: Course, oracle: Oracle, tally: Tally) -> None:
        self.course, self.oracle, self.tally = course, oracle, tally
        self.asked, self.edition = Asked(hole=0, situation="", ball=None), ""
        self._clear: dict[tuple[object, ...], _Clear] = {}

    def compare(self, asked: Asked, edition: str) -> list[Difference]:
        """Rule on a question, and list what does not agree with the oracle's answer."""
        self.asked, self.edition = asked, edition
        answer = self.oracle.answer(asked, edition)
        if answer.unsure:
            self.tally.unsure += 1
            return []
        self.tally.ruled += 1
        try:
            ruling = rule_on(incident_of(asked, self.course), self.course, BOOKS[edition])
        except MarramError as problem:
            self.tally.refused += 1
            found = [Difference(edition=edition, procedure="-", what="refused", text=problem.message)]
        else:
            told = self._with_question(asked, edition, answer, ruling)
            found = [Difference(edition=edition, procedure=name, what=what, text=text) for name, what, text in told]
        self.tally.differences += found
        return found

    def _with_question(self, asked: Asked, edition: str, answer: Answer, ruling: Ruling) -> Iterator[tuple[str, str, str]]:
        """What does not agree; where the mark that was crossed is asked about, after each answer to that."""
        question = next((entry for entry in ruling.facts_needed if entry.fact == "crossed_mark"), None)
        if question is None:
            if answer.must_ask:
                yield "-", "question", "two marks meet where the ball crossed, and nothing is asked"
            yield from self._options(answer, ruling, is_whole=True)
            return
        self.tally.questions += 1
        if not answer.may_ask:
            yield "-", "question", "asked which mark was crossed, and only one runs near"
        yield from self._options(answer, ruling, is_whole=False)
        for mark in question.answers:
            told = replace(asked, crossed_mark=mark)
            again = rule_on(incident_of(told, self.course), self.course, BOOKS[edition])
            yield from self._options(self.oracle.answer(told, edition), again, is_whole=True)

    def _options(self, answer: Answer, ruling: Ruling, *, is_whole: bool) -> Iterator[tuple[str, str, str]]:
        """What does not agree, option by option; before a question is answered some that will be open are not there yet."""
        given = {option.carried_out_as or option.procedure: option for option in ruling.options}
        wanted = {expected.procedure: expected for expected in answer.options}
        for name in wanted.keys() - given.keys():
            if wanted[name].is_sure and is_whole:
                yield name, "offered", "open by the oracle, not offered"
        for name in given.keys() - wanted.keys():
            yield name, "offered", "offered, and not open by the oracle"
        for name in sorted(wanted.keys() & given.keys()):
            self.tally.options += 1
            yield from ((name, what, text) for what, text in self._option(wanted[name], given[name]))

    def _option(self, wanted: Expected, given: Option) -> Iterator[tuple[str, str]]:
        if wanted.strokes != given.penalty_strokes:
            yield "strokes", f"{given.penalty_strokes} for {wanted.strokes}"
        if wanted.most_relief:
            if not given.references or given.references[0].kind != "point-of-maximum-available-relief":
                yield "point", "no place is clear by the oracle"
            return
        points = [reference.position.xy for reference in given.references]
        if wanted.relief is not None:
            yield from self._nearest(wanted, given, points)
            return
        yield from self._points(wanted, points)
        area = wanted.area
        if wanted.maybe_points and points:
            hole = wanted.hole_and_ground
            assert hole is not None
            area = not_nearer(points[0], wanted.reach_m, hole[0], math.dist(points[0], hole[0])).intersection(hole[1])
        yield from self._area(area, given)
        yield from self._line(wanted, given)

    def _points(self, wanted: Expected, points: list[XY]) -> Iterator[tuple[str, str]]:
        """Each sure point is there, and each point that is there is one that may be."""
        allowed = wanted.maybe_points or tuple((point, 0.0) for point in wanted.points)
        for point in points:
            off_m, moves_m = min(((math.dist(point, other), moves_m) for other, moves_m in allowed), default=(math.inf, 0.0))
            if not self.tally.agrees("reference point, m", max(off_m - moves_m, 0.0), POINT_M):
                yield "point", f"reference point {off_m:.4f} m from the oracle's"
        for other in wanted.points:
            off_m = min((math.dist(point, other) for point in points), default=math.inf)
            moves_m = next((moves_m for place, moves_m in wanted.maybe_points if place == other), 0.0)
            if off_m - moves_m > POINT_M:
                yield "point", f"the oracle's reference point is {off_m:.4f} m from any given"

    def _area(self, wanted: BaseGeometry | None, given: Option) -> Iterator[tuple[str, str]]:
        if (wanted is None) != (given.relief_area is None):
            yield "area", "an area that only one of the two measures"
        if wanted is None or given.relief_area is None:
            return
        wanted = polygons(wanted, 0.0)
        off_m2 = abs(given.relief_area.area_m2 - wanted.area)
        allowed_m2 = AREA_M2 + AREA_FOR_EACH_M * wanted.length
        apart = given.relief_area.outline().symmetric_difference(wanted)
        beyond_m2 = apart.difference(wanted.boundary.buffer(EDGE_M)).area if not wanted.is_empty else apart.area
        if not self.tally.agrees("area, m²", off_m2, allowed_m2) or beyond_m2 > SLIVER_M2:
            yield "area", f"{given.relief_area.area_m2:.4f} m² for {wanted.area:.4f} m²; {beyond_m2:.4f} m² beyond the edges"
        else:
            self.tally.agrees("symmetric difference, m²", apart.area, math.inf)

    def _line(self, wanted: Expected, given: Option) -> Iterator[tuple[str, str]]:
        if (wanted.line is None) != (given.line is None):
            yield "line", "a line back that only one of the two has"
        if wanted.line is None or given.line is None or wanted.hole_and_ground is None:
            return
        hole, ground = wanted.hole_and_ground
        start = wanted.points[0]
        edges_m = sorted({0.0, *(end for pair in (*wanted.line, *given.line.intervals_m) for end in pair)})
        for near_m, far_m in zip(edges_m, edges_m[1:], strict=False):
            middle_m = (near_m + far_m) / 2
            if _holds(wanted.line, middle_m) == _holds(given.line.intervals_m, middle_m):
                continue
            backs_m = np.linspace(near_m, far_m, 2 + int((far_m - near_m) / 0.02))
            off_m = max(ground.boundary.distance(Point(further(start, hole, float(back_m)))) for back_m in backs_m)
            if not self.tally.agrees("line, m from the edge of its ground", off_m, EDGE_M):
                yield "line", f"{near_m:.3f} to {far_m:.3f} m back: usable for one of the two only"

    def _nearest(self, wanted: Expected, given: Option, points: list[XY]) -> Iterator[tuple[str, str]]:
        """The point given is a place of complete relief, none is nearer, and the ground about it is what gives complete relief."""
        relief, found = wanted.relief, wanted.found
        assert relief is not None and found is not None
        if not points:
            yield "point", "no nearest point"
            return
        fits_m, away_m = relief.fits_m(points[0]), math.dist(points[0], relief.ball)
        kind = given.references[0].kind
        if kind != "nearest-point-of-complete-relief" or not self.tally.agrees("nearest point, overlap m", max(-fits_m, 0.0), NEAREST_M):
            yield "point", f"{kind} at {away_m:.3f} m, {-fits_m:.4f} m within condition or other ground"
            return
        if not self.tally.agrees("nearest point, distance m", max(found.none_within_m - away_m, away_m - found.distance_m, 0.0), NEAREST_M):
            yield "point", f"nearest point {away_m:.4f} m away for {found.distance_m:.4f} m"
            return
        if given.relief_area is None:
            yield "area", "no area is measured"
            return
        yield from self._clear_area(wanted, given, points[0])
        yield from self._further(wanted, given, points[0])

    def _further(self, wanted: Expected, given: Option, at: XY) -> Iterator[tuple[str, str]]:
        """Another condition in the way at the point is told, with the next point from there."""
        told = {entry.situation: entry for entry in given.further if entry.interference is not None}
        for kind, other in also_in_the_way(self.oracle, self.asked, self.edition, wanted, at).items():
            if abs(other.gap_m) > NEAREST_M and (kind in told) != (other.gap_m < 0):
                yield "further", f"{kind} at the point, gap {other.gap_m:.4f} m: told is {kind in told}"
            if kind in told and other.next_point is not None:
                next_m = told[kind].points[0].distance_m if told[kind].points else math.inf
                off_m = max(other.next_point.none_within_m - (next_m or 0.0), (next_m or 0.0) - other.next_point.distance_m, 0.0)
                if not self.tally.agrees("nearest point, distance m", off_m, NEAREST_M):
                    yield "further", f"{kind}: next point {next_m} m away for {other.next_point.distance_m:.4f} m"

    def _clear_area(self, wanted: Expected, given: Option, at: XY) -> Iterator[tuple[str, str]]:
        relief = wanted.relief
        assert relief is not None and given.relief_area is not None
        ground = polygons(not_nearer(at, wanted.reach_m, relief.hole, math.dist(at, relief.hole)).intersection(relief.allowed), 0.0)
        clear = self._clear_on(relief, ground, at)
        off_m2, outline = abs(given.relief_area.area_m2 - clear.area_m2), given.relief_area.outline()
        drawn = shapely.contains_xy(outline, clear.tried[:, 0], clear.tried[:, 1])
        apart = ((clear.inside_m >= 0) != drawn) & (np.abs(clear.inside_m) > 2 * EDGE_M)
        beyond_m2 = float(apart.sum()) * _TRIED_EVERY_M**2
        allowed_m2 = AREA_M2 + AREA_FOR_EACH_M * (outline.length + ground.length)
        if not self.tally.agrees("area of complete relief, m²", off_m2, allowed_m2) or beyond_m2 > SLIVER_M2:
            told = f"{given.relief_area.area_m2:.4f} m² of complete relief for {clear.area_m2:.4f} m²"
            yield "area", f"{told}; about {beyond_m2:.3f} m² elsewhere"

    def _clear_on(self, relief: Relief, ground: BaseGeometry, at: XY) -> _Clear:
        """The oracle's complete relief on some ground; editions that measure alike share it."""
        key = (relief.ball, relief.hole, at, hash(ground.wkb))
        if key not in self._clear:
            area_m2, measure = relief.clear_area(ground, at)
            x0, y0, x1, y1 = (*at, *at) if ground.is_empty else ground.bounds
            xs, ys = np.arange(x0 - 0.1, x1 + 0.1, _TRIED_EVERY_M), np.arange(y0 - 0.1, y1 + 0.1, _TRIED_EVERY_M)
            tried = np.array([(x, y) for x in xs for y in ys])
            self._clear = {key: _Clear(area_m2, tried, measure(tried))}
        return self._clear[key]


def _holds(intervals: tuple[tuple[float, float], ...], back_m: float) -> bool:
    return any(near_m <= back_m <= far_m for near_m, far_m in intervals)
