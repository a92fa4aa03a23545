"""Random incidents for the oracle: balls where such things happen, more of them where outlines meet, narrow and end."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import Point
from shapely.geometry.base import BaseGeometry

from tests.published.geometry.oracle.asked import Asked, LonLat
from tests.published.geometry.oracle.further import CONDITIONS
from tests.published.geometry.oracle.ground import XY, Ground
from tests.published.geometry.oracle.outlines import disc, on_edge

_SITUATIONS = ("penalty-area", "unplayable", "condition", "lost", "embedded")
USUAL_SHARES, ON_PATHS = (0.45, 0.2, 0.2, 0.08, 0.07), (0.12, 0.06, 0.7, 0.06, 0.06)
"""How often each situation is drawn, in this order."""


class Incidents:
    """A source of incidents on one course."""

    def __init__(self, ground: Ground, seed: int, shares: Sequence[float] = USUAL_SHARES) -> None:
        self.ground, self.random, self.shares = ground, np.random.default_rng(seed), shares
        self.here = [kind for kind in CONDITIONS if ground.of_kind(kind)]

    @property
    def may_rule(self) -> bool:
        """Whether there is a boundary and a hole; without them a course can be read, and nothing can be ruled on it."""
        return not self.ground.boundary.is_empty and bool(self.ground.holes)

    def draw(self) -> Asked:
        """One incident."""
        shares = np.array(self.shares) * [bool(self.ground.water), 1, bool(self.here), 1, 1]
        situation = str(self.random.choice(_SITUATIONS, p=shares / shares.sum()))
        made = {"penalty-area": self._penalty, "condition": self._condition, "lost": self._lost}.get(situation, self._anywhere)
        return made(situation)

    # Places --------------------------------------------------------------------------------------------------------------

    def _degrees(self, at: XY) -> LonLat:
        return self.ground.projection.degrees(*at)

    def within(self, grounds: Sequence[BaseGeometry]) -> XY:
        """A place on one of some grounds; half of them within a metre of an edge."""
        single = self._single(grounds)
        if self.random.random() < 0.5:
            edge = single.boundary
            at = edge.interpolate(float(self.random.uniform(0, edge.length)))
            for _ in range(20):
                x_m, y_m = np.array([at.x, at.y]) + self.random.normal(0, 0.5, 2)
                if single.contains(Point(x_m, y_m)):
                    return (float(x_m), float(y_m))
        x0, y0, x1, y1 = single.bounds
        for _ in range(200):
            x_m, y_m = self.random.uniform(x0, x1), self.random.uniform(y0, y1)
            if single.contains(Point(x_m, y_m)):
                return (float(x_m), float(y_m))
        inside = single.representative_point()
        return (float(inside.x), float(inside.y))

    def _single(self, grounds: Sequence[BaseGeometry]) -> BaseGeometry:
        singles: list[BaseGeometry] = [single for ground in grounds for single in shapely.get_parts(ground) if single.area > 0.05]
        return singles[int(self.random.integers(len(singles)))]

    def _hole_for(self, at: XY) -> int:
        """One of the three holes nearest by, never one whose hole is cut within a metre."""
        away = sorted((float(np.hypot(at[0] - x, at[1] - y)), number) for number, (x, y) in self.ground.holes.items())
        far = [number for away_m, number in away if away_m > 1.0][:3] or [away[0][1]]
        return int(self.random.choice(far))

    def _stroke(self, hole: int) -> XY:
        """Where a stroke was made: on the tee, in water, in sand, on the green, or anywhere."""
        draw, ground = self.random.random(), self.ground
        wanted = {0: "teeing-area", 1: "penalty-area", 2: "bunker", 3: "putting-green"}.get(int(draw * 10))
        area = ground.boundary if wanted is None else ground.area(wanted, hole)
        return self.within([ground.boundary if area.is_empty else area])

    def _outside_water(self, hole: int) -> XY:
        at = self._stroke(hole)
        for _ in range(50):
            if self.ground.locate(at, hole).area != "penalty-area":
                break
            at = self._stroke(hole)
        return at

    def crossing(self, ground: BaseGeometry, ball: XY | None) -> XY:
        """Where a ball may have crossed an edge, put up to a few decimetres off it where that leaves no doubt."""
        edge = ground.boundary
        along_m = float(self.random.uniform(0, edge.length))
        if ball is not None and self.random.random() < 0.7:
            along_m = edge.project(Point(ball)) + float(self.random.normal(0, 4))
        at = edge.interpolate(along_m % edge.length)
        put = (at.x + float(self.random.normal(0, 0.1)), at.y + float(self.random.normal(0, 0.1)))
        away_m = edge.distance(Point(put))
        near = edge.intersection(disc(put, away_m + 0.003))
        is_plain = shapely.length(near) < 0.5 * np.sqrt(away_m + 0.01) and len(shapely.get_parts(shapely.line_merge(near))) == 1
        return put if is_plain else on_edge((at.x, at.y), ground)

    # Situations ----------------------------------------------------------------------------------------------------------

    def _made(self, situation: str, hole: int, ball: XY | None, crossed: XY | None = None) -> Asked:
        back_m = float(self.random.choice([0.4, 1.5, 5.0, 20.0, 60.0])) if self.random.random() < 0.9 else None
        return Asked(
            hole=hole,
            situation=situation,
            ball=None if ball is None else self._degrees(ball),
            crossed_at=None if crossed is None else self._degrees(crossed),
            previous_stroke=self._degrees(self._stroke(hole)),
            last_stroke_outside=self._degrees(self._outside_water(hole)),
            back_m=back_m,
            club_in=round(float(self.random.uniform(40, 46)), 2),
            hand=str(self.random.choice(["right", "right", "left"])),
            club=str(self.random.choice(["driver", "iron", "wedge"])),
            fairway=bool(self.random.random() < 0.5),
        )

    def _penalty(self, situation: str) -> Asked:
        part = self.ground.water[int(self.random.integers(len(self.ground.water)))]
        ball = self.within([part.ground])
        hole = self._hole_for(ball)
        held = self.ground.locate(ball, hole).part or part
        crossed = self.crossing(held.ground, ball)
        return self._made(situation, hole, ball if self.random.random() < 0.8 else None, crossed)

    def _anywhere(self, situation: str) -> Asked:
        sand = [part.ground for part in self.ground.sand]
        is_sand = bool(sand) and situation == "unplayable" and self.random.random() < 0.6
        ball = self.within(sand if is_sand else [self.ground.boundary])
        return self._with_played_from_water(self._made(situation, self._hole_for(ball), ball))

    def _lost(self, situation: str) -> Asked:
        hole = int(self.random.choice(list(self.ground.holes)))
        return self._with_played_from_water(self._made(situation, hole, None))

    def _with_played_from_water(self, asked: Asked) -> Asked:
        """Where the previous stroke was made in a penalty area, the place where a ball came into that area."""
        assert asked.previous_stroke is not None
        stroke = self.ground.projection.metres(*asked.previous_stroke)
        part = self.ground.locate(stroke, asked.hole).part
        if part is None or part.kind != "penalty-area":
            return asked
        return replace(asked, crossed_at=self._degrees(self.crossing(part.ground, stroke)))

    def _condition(self, situation: str) -> Asked:
        kind = str(self.random.choice(self.here))
        middle = self.within([self._single(self.ground.of_kind(kind))])
        ball = (middle[0] + float(self.random.normal(0, 0.5)), middle[1] + float(self.random.normal(0, 0.5)))
        return self._made(kind, self._hole_for(ball), ball)


def every_ball(ground: Ground, step_m: float) -> Iterator[Asked]:
    """A ball on each place of a grid in each penalty area, come in over the nearest edge, played before from that very place.

    The hole is the nearest whose hole is cut more than a metre away; the last stroke from outside was made on its tee.
    """
    for part in ground.water:
        x0, y0, x1, y1 = part.ground.bounds
        corners = np.array([(x, y) for x in np.arange(x0 // step_m, x1 / step_m) for y in np.arange(y0 // step_m, y1 / step_m)]) * step_m
        for x_m, y_m in corners[shapely.contains_xy(part.ground, corners[:, 0], corners[:, 1])].tolist():
            away = sorted((math.dist((x_m, y_m), at), number) for number, at in ground.holes.items())
            hole = next(number for away_m, number in away if away_m > 1.0)
            crossed, ball = ground.projection.degrees(*on_edge((x_m, y_m), part.ground)), ground.projection.degrees(x_m, y_m)
            tee = ground.area("teeing-area", hole)
            outside = None if tee.is_empty else ground.projection.degrees(tee.representative_point().x, tee.representative_point().y)
            yield Asked(
                hole=hole,
                situation="penalty-area",
                ball=ball,
                crossed_at=crossed,
                previous_stroke=ball,
                last_stroke_outside=outside,
                back_m=3.0,
            )
