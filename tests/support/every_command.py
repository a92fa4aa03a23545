"""Everything that can be asked of a course file, one command after the other, as an official would."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Sequence
from pathlib import Path

from shapely.geometry import Point, shape
from shapely.geometry.base import BaseGeometry

from tests.support.running import Run

_PROCEDURES = ("penalty-area-lateral-red", "penalty-area-back-on-line", "immovable-obstruction-general-area", "unplayable-lateral")
_SITUATIONS = {
    "penalty-area": "penalty-area",
    "immovable-obstruction": "immovable-obstruction",
    "ground-under-repair": "ground-under-repair",
    "temporary-water": "temporary-water",
    "no-play-zone": "no-play-zone",
}
_ENDS = {"check": {0, 1}, "marking": {0, 1}, "draw": {0}, "places": {0}, "holes": {0}, "rule": {0, 2, 3}}
"""How each may end where the course has a boundary: answered, faults found; of a ball that lies anywhere, refused or asked about."""
_NO_BOUNDARY = {"marking": {2}, "places": {2}, "rule": {2}}


def ask_everything(called: Run, course: Path, folder: Path, *, seed: int, places: int = 1, balls: int = 2) -> None:
    """Open, check, try the marking, propose holes, draw each hole, look for places, rule on balls at random.

    Args:
        called: Runs a command; what is not an error of Marram's own comes through as it is.
        course: The course file.
        folder: Where to write.
        seed: Chooses procedures and balls.
        places: For how many procedures places are looked for.
        balls: How many balls are ruled on.
    """
    raw = json.loads(course.read_text(encoding="utf-8"))
    rng = random.Random(seed)
    has_boundary = any(feature["properties"]["kind"] == "boundary" for feature in raw["features"])
    for words in _commands(raw, course, folder, rng, places, balls):
        name = words[1] if words[0] == "course" else words[0]
        ended, told, complaint = called(*words)
        allowed = _ENDS[name] if has_boundary else _NO_BOUNDARY.get(name, _ENDS[name])
        assert ended in allowed, f"{' '.join(words)} ended with {ended}: {complaint}"
        assert "Traceback" not in complaint
        if words[-1] == "--json":
            assert ("error" in json.loads(told)) is (ended > 1)


def _commands(raw: dict[str, object], course: Path, folder: Path, rng: random.Random, places: int, balls: int) -> Iterator[Sequence[str]]:
    features: list[dict[str, dict[str, object]]] = raw["features"]  # type: ignore[assignment]
    holes = sorted({number for feature in features for number in feature["properties"].get("holes", [])})  # type: ignore[attr-defined]
    yield "course", "check", str(course)
    yield "course", "check", str(course), "--json"
    yield "course", "marking", str(course), "--draw", str(folder / "marking")
    yield "course", "marking", str(course), "--json"
    yield "course", "holes", str(course), "--json"
    yield "course", "draw", str(course), "-o", str(folder / "whole.svg"), "--names"
    for number in holes:
        yield "course", "draw", str(course), "--hole", str(number), "-o", str(folder / "hole.svg")
    for procedure in rng.sample(_PROCEDURES, places):
        yield "course", "places", str(course), "--procedure", procedure, "--count", "1", "--json"
    for ball in range(balls if holes else 0):
        incident = folder / f"ball-{ball}.toml"
        incident.write_text(_incident(features, rng, rng.choice(holes)), encoding="utf-8")
        yield "rule", str(incident), "--course", str(course), "--book", "2023", "--draw", str(folder / "ruling.svg"), "--json"


def _incident(features: Sequence[dict[str, dict[str, object]]], rng: random.Random, hole: int) -> str:
    """A ball somewhere in a thing of the course, with where it crossed the edge and where it was played from."""
    things = [(feature["properties"]["kind"], shape(feature["geometry"])) for feature in features]
    kind, ground = rng.choice([(str(kind), thing) for kind, thing in things if thing.area > 0])
    ball, crossed, played = _somewhere(ground, rng), ground.boundary.interpolate(rng.random(), normalized=True), _somewhere(ground, rng)
    return "\n".join(
        [
            f"hole = {hole}",
            f'situation = "{_SITUATIONS.get(kind, "unplayable")}"',
            f"ball = {{ at = {_at(ball)} }}",
            '[player]\nhand = "right"\nlongest_club_in = 45.0\nclub = "iron"',
            f'[facts]\ncrossed_at = {{ at = {_at(crossed)} }}\nprevious_stroke = {{ at = {_at(played)}, area = "general-area" }}',
        ]
    )


def _somewhere(ground: BaseGeometry, rng: random.Random) -> Point:
    west, south, east, north = ground.bounds
    tries = (Point(rng.uniform(west, east), rng.uniform(south, north)) for _ in range(40))
    return next((point for point in tries if ground.covers(point)), ground.representative_point())


def _at(point: Point) -> str:
    return f"[{point.x!r}, {point.y!r}]"
