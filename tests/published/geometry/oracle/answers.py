"""What an official may answer: each procedure that is open, with where the ball may be dropped, by the edition's own measures."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from tests.published.geometry.oracle import outlines
from tests.published.geometry.oracle.asked import Asked, LonLat
from tests.published.geometry.oracle.crossing import Crossed, where_crossed
from tests.published.geometry.oracle.editions import EDITIONS, Edition
from tests.published.geometry.oracle.expected import Answer, Expected
from tests.published.geometry.oracle.ground import BALL_RADIUS_M, XY, Ground, Part, Place
from tests.published.geometry.oracle.nearest import Nearest, Relief
from tests.published.geometry.oracle.stance import Condition, player

_OBSTRUCTION = "immovable-obstruction"
NEAR_ZERO_M = 0.003


@dataclass
class Oracle:
    """A course on which questions are answered."""

    ground: Ground
    _lines: dict[tuple[object, ...], tuple[tuple[float, float], ...]] = field(default_factory=dict)
    _searches: dict[tuple[object, ...], tuple[Relief, Nearest | None]] = field(default_factory=dict)

    def usable(self, start: XY, hole: XY, ground: BaseGeometry) -> tuple[tuple[float, float], ...]:
        """The stretches of a line back that lie on some ground; editions that ask alike share them."""
        key = (start, hole, hash(ground.wkb))
        if key not in self._lines:
            self._lines[key] = tuple(outlines.usable(start, hole, ground))
        return self._lines[key]

    def answer(self, asked: Asked, edition_name: str) -> Answer:
        """What is open to the player under an edition."""
        return _Case(self, asked, EDITIONS[edition_name]).answer()


class _Case:
    """One question under one edition."""

    def __init__(self, oracle: Oracle, asked: Asked, edition: Edition) -> None:
        self.oracle, self.ground, self.asked, self.edition = oracle, oracle.ground, asked, edition
        self.hole = self.ground.holes[asked.hole]
        self.small_m, self.large_m = edition.small_m(asked.club_in), edition.large_m(asked.club_in)
        self.ball = self._xy(asked.ball)
        self.place = None if self.ball is None else self.ground.locate(self.ball, asked.hole)

    def _xy(self, at: LonLat | None) -> XY | None:
        return None if at is None else self.ground.projection.metres(*at)

    def _locate(self, at: XY) -> Place:
        return self.ground.locate(at, self.asked.hole)

    def answer(self) -> Answer:
        if self.place is not None and not self.place.is_sure:
            return Answer(unsure="the ball lies within millimetres of another area")
        stroke = self._xy(self.asked.previous_stroke)
        if stroke is not None and not self._locate(stroke).is_sure:
            return Answer(unsure="the previous stroke was made within millimetres of another area")
        situation = {"penalty-area": self._penalty, "unplayable": self._unplayable, "embedded": self._embedded}
        found = situation.get(self.asked.situation, self._lost if self.asked.situation in {"lost", "out-of-bounds"} else self._condition)
        return found()

    # Where an earlier stroke was made ------------------------------------------------------------------------------------

    def _previous(self, procedure: str, strokes: int, at: XY | None) -> Expected | None:
        if at is None:
            return None
        place, edition = self._locate(at), self.edition
        plain = Expected(procedure=procedure, strokes=strokes, points=(at,))
        if place.area == "teeing-area":
            tee = self.ground.tee_at(at, self.asked.hole)
            return Expected(procedure=procedure, strokes=strokes, points=(at,), area=tee)
        if place.area == "putting-green" or not edition.previous_has_area:
            return plain
        return Expected(
            procedure=procedure, strokes=strokes, points=(at,), area=self._disc(at, self.small_m, at).intersection(self._same(place))
        )

    def _same(self, place: Place) -> BaseGeometry:
        """The area of the course that a place is in; of penalty areas and bunkers the very part."""
        return self.ground.area(place.area, self.asked.hole) if place.part is None else place.part.ground

    # Shapes --------------------------------------------------------------------------------------------------------------

    def _disc(self, centre: XY, radius_m: float, limit: XY) -> BaseGeometry:
        return outlines.not_nearer(centre, radius_m, self.hole, math.dist(limit, self.hole))

    def _back_on_line(self, procedure: str, strokes: int, start: XY, allowed: BaseGeometry) -> Expected | None:
        """A drop back on the line from a place, on ground that the procedure allows."""
        if math.dist(start, self.hole) < 0.001:
            return None
        line = self.oracle.usable(start, self.hole, allowed)
        area = self._about_line(start, allowed, line)
        return Expected(procedure=procedure, strokes=strokes, points=(start,), line=line, area=area, hole_and_ground=(self.hole, allowed))

    def _about_line(self, start: XY, allowed: BaseGeometry, line: tuple[tuple[float, float], ...]) -> BaseGeometry | None:
        back_m, kind = self.asked.back_m, self.edition.line
        if kind == "strip":
            last_m = line[-1][1] if line else 0.0
            return (
                outlines.strip(start, self.hole, self.small_m, last_m).intersection(allowed)
                if line
                else allowed.intersection(Point(start).buffer(0))
            )
        if kind == "line" or back_m is None or not any(near_m <= back_m <= far_m for near_m, far_m in line):
            return None
        chosen = outlines.further(start, self.hole, back_m)
        return self._disc(chosen, self.small_m, chosen if kind == "behind" else start).intersection(allowed)

    # Penalty areas -------------------------------------------------------------------------------------------------------

    def _crossed(self, holding: Part | None) -> Crossed:
        crossed = self._xy(self.asked.crossed_at)
        assert crossed is not None, "the oracle is always told where the ball crossed"
        return where_crossed(self.ground, crossed, holding, self.asked.crossed_mark)

    def _outside(self, crossed: Crossed, strokes: int) -> Iterator[Expected | None]:
        """The options that lead out of a penalty area."""
        allowed = self.ground.boundary.difference(crossed.left)
        yield self._back_on_line("penalty-area-back-on-line", strokes, crossed.at, allowed)
        if crossed.part.mark in self.edition.lateral_marks:
            area = self._disc(crossed.at, self.large_m, crossed.at).intersection(allowed)
            yield Expected(procedure="penalty-area-lateral-red", strokes=strokes, points=(crossed.at,), area=area)

    def _opposite(self, crossed: Crossed) -> Iterator[Expected]:
        if not self.edition.has_opposite or crossed.part.mark not in self.edition.lateral_marks:
            return
        sure, maybe = outlines.opposite(crossed.at, self.hole, crossed.part.ground)
        if maybe:
            yield Expected(
                procedure="penalty-area-opposite-side",
                strokes=1,
                points=tuple(place for place, _ in sure),
                maybe_points=tuple(maybe),
                is_sure=bool(sure),
                reach_m=self.large_m,
                hole_and_ground=(self.hole, self.ground.boundary.difference(crossed.left)),
            )

    def _penalty(self) -> Answer:
        """A ball in a penalty area: the part that holds it; of a ball not found the part whose edge it crossed."""
        if not self.ground.water or (self.place is not None and self.place.area != "penalty-area"):
            return Answer()
        crossed = self._crossed(None if self.place is None else self.place.part)
        stroke = self._xy(self.asked.previous_stroke)
        options = [self._previous("penalty-area-stroke-and-distance", 1, stroke), *self._outside(crossed, 1), *self._opposite(crossed)]
        if stroke is not None and self._locate(stroke).area == "penalty-area":
            outside = self._xy(self.asked.last_stroke_outside)
            options.append(self._previous("played-from-penalty-area-into-same", 1, outside))
        return self._answered(options, crossed)

    def _answered(self, options: list[Expected | None], crossed: Crossed | None) -> Answer:
        there = tuple(option for option in options if option is not None)
        if crossed is None:
            return Answer(options=there)
        unsure = "" if crossed.is_sure else "two waters are as near to the crossing"
        return Answer(options=there, unsure=unsure, must_ask=crossed.must_ask, may_ask=crossed.may_ask)

    def _played_from_water(self) -> tuple[list[Expected | None], Crossed | None]:
        """After a stroke from a penalty area that failed outside it: what leads out of that area, for two strokes in all."""
        stroke = self._xy(self.asked.previous_stroke)
        place = None if stroke is None else self._locate(stroke)
        if place is None or place.area != "penalty-area":
            return [], None
        crossed = self._crossed(place.part)
        outside = self._previous("played-from-penalty-area-into-same", 2, self._xy(self.asked.last_stroke_outside))
        return [*self._outside(crossed, 2), outside], crossed

    # Lost, out of bounds, unplayable, embedded ---------------------------------------------------------------------------

    def _lost(self) -> Answer:
        after, crossed = self._played_from_water()
        return self._answered([self._previous("lost-or-out-of-bounds", 1, self._xy(self.asked.previous_stroke)), *after], crossed)

    def _unplayable(self) -> Answer:
        place, ball = self.place, self.ball
        if place is None or ball is None or place.area in {"penalty-area", "out-of-bounds"}:
            return Answer(unsure="" if place is None or place.area == "penalty-area" else "out of bounds")
        in_sand = place.area == "bunker" and place.part is not None
        allowed = place.part.ground if in_sand and place.part is not None else self.ground.boundary
        options = [self._previous("unplayable-stroke-and-distance", 1, self._xy(self.asked.previous_stroke))]
        options.append(self._back_on_line("unplayable-back-on-line", 1, ball, allowed))
        lateral = self._disc(ball, self.large_m, ball).intersection(allowed)
        options.append(Expected(procedure="unplayable-lateral", strokes=1, points=(ball,), area=lateral))
        strokes = self.edition.bunker_line_strokes
        if in_sand and strokes is not None:
            outside = self.ground.boundary.difference(allowed)
            options.append(self._back_on_line("unplayable-in-bunker-outside", strokes, ball, outside))
        after, crossed = self._played_from_water()
        return self._answered([*options, *after], crossed)

    def _embedded(self) -> Answer:
        if self.place is None or self.ball is None or self.place.area == "out-of-bounds":
            return Answer(unsure="no ball lies there")
        if self.place.area == "putting-green":
            return Answer(options=(Expected(procedure="embedded-ball-putting-green", strokes=0, points=(self.ball,)),))
        if self.place.area != "general-area":
            return Answer()
        if self.edition.embedded == "spot":
            spot = Expected(procedure="embedded-ball-general", strokes=0, points=(self.ball,))
            return Answer(options=(spot,) if self.asked.fairway else ())
        behind = outlines.further(self.ball, self.hole, BALL_RADIUS_M)
        area = self._disc(behind, self.small_m, behind).intersection(self.ground.area("general-area", self.asked.hole))
        return Answer(options=(Expected(procedure="embedded-ball-general", strokes=0, points=(behind,), area=area),))

    # Conditions ----------------------------------------------------------------------------------------------------------

    def _in_the_way(self) -> tuple[list[tuple[float, Condition]], bool]:
        """Conditions within reach, the deepest first, and whether a few millimetres would change which they are."""
        assert self.ball is not None
        ball, near = Point(self.ball), []
        for ground, standing in self.ground.conditions(self.asked.situation):
            if ground.distance(ball) <= 2.5:
                condition = Condition(ground, standing)
                probe = Relief(
                    ball=self.ball, hole=self.hole, discs=player(self.asked.club, self.asked.hand), condition=condition, allowed=ground
                )
                near.append((float(probe.gap_m(shapely.get_coordinates(ball))[0]), condition))
        near.sort(key=lambda entry: entry[0])
        met = [entry for entry in near if entry[0] < 0]
        is_sure = all(abs(gap_m) > NEAR_ZERO_M for gap_m, _ in near) and (len(met) < 2 or met[1][0] - met[0][0] > NEAR_ZERO_M)
        return met, is_sure

    def _condition(self) -> Answer:
        place = self.place
        if place is None or place.area not in {"general-area", "bunker", "penalty-area"}:
            return Answer(unsure="the oracle answers only for the general area, bunkers and penalty areas")
        if place.area == "penalty-area":
            return Answer()
        met, is_sure = self._in_the_way()
        if not is_sure:
            return Answer(unsure="the condition is within millimetres of interfering or not")
        if not met:
            return Answer()
        stem = "immovable-obstruction" if self.asked.situation == _OBSTRUCTION else "ground-condition"
        if place.area == "bunker" and place.part is not None:
            return self._answered(self._in_bunker(stem, place.part, met[0][1]), None)
        allowed = self.ground.area("general-area", self.asked.hole)
        if self.edition.off_all_greens:
            allowed = allowed.difference(self.ground.all_greens)
        found = self._free(f"{stem}-general-area", met[0][1], allowed)
        return Answer(options=() if found is None else (found,))

    def _in_bunker(self, stem: str, part: Part, condition: Condition) -> list[Expected | None]:
        assert self.ball is not None
        free = self._free(f"{stem}-bunker-free", condition, part.ground)
        if free is None and (self.edition.most_relief_obstruction or stem != _OBSTRUCTION):
            free = Expected(procedure=f"{stem}-bunker-free", strokes=0, most_relief=True)
        outside = self._back_on_line(f"{stem}-bunker-outside", 1, self.ball, self.ground.boundary.difference(part.ground))
        return [free, outside]

    def _free(self, procedure: str, condition: Condition, allowed: BaseGeometry) -> Expected | None:
        """Free relief about the nearest point of complete relief."""
        asked, ball = self.asked, self.ball
        assert ball is not None
        key = (asked, hash(allowed.wkb))
        if key not in self.oracle._searches:
            relief = Relief(ball=ball, hole=self.hole, discs=player(asked.club, asked.hand), condition=condition, allowed=allowed)
            self.oracle._searches[key] = (relief, relief.nearest())
        relief, found = self.oracle._searches[key]
        if found is None:
            return None
        return Expected(procedure=procedure, strokes=0, relief=relief, found=found, reach_m=self.small_m)
