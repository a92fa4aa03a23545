"""Rulings on ground where something falls together: always an answer or one clear error, never an unsound area.

Each ground is put to every book and every situation that could meet it, with balls on its corners, edges and middles.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest
from shapely import affinity
from shapely.geometry import MultiPolygon, Point, Polygon, box

from marram.core.errors import MarramError, SurveyError
from marram.core.terms import Area, FeatureKind, Form, Hand, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.interchange.courses.course_geojson import parse_course, write_course
from marram.rulebook import open_book, packaged_catalogue
from marram.rulebook.book import Book
from marram.rulings import Choice, Incident, Option, Player, PreviousStroke, Ruling, rule_on
from tests.support.ground import HOLE, course, feature
from tests.support.random_ground import Motion

ALL_BOOKS = {edition: open_book(edition, [], packaged_catalogue()) for edition in packaged_catalogue().editions}
OLDEST_AND_NEWEST = {edition: ALL_BOOKS[edition] for edition in (next(iter(ALL_BOOKS)), list(ALL_BOOKS)[-1])}
OBSTRUCTION, REPAIR, WATER = FeatureKind.IMMOVABLE_OBSTRUCTION, FeatureKind.GROUND_UNDER_REPAIR, FeatureKind.TEMPORARY_WATER
RED, BUNKER, GREEN = FeatureKind.PENALTY_AREA, FeatureKind.BUNKER, FeatureKind.PUTTING_GREEN


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """Some features with the places that are asked about.

    Attributes:
        features: What lies on the course.
        balls: Where the ball may lie; None for one not found.
        crossings: Where it may have crossed the edge of a penalty area.
    """

    features: tuple[Feature, ...]
    balls: tuple[tuple[float, float] | None, ...]
    crossings: tuple[tuple[float, float] | None, ...] = field(default=(None,))


def red(name: str, outline: Polygon | MultiPolygon, mark: Mark = Mark.RED) -> Feature:
    return feature(name, RED, outline, mark=mark)


WATERS = {
    "hole inside a penalty area": Ground(
        features=(red("moat", box(-20, -20, 20, 20)),),
        balls=((5, 5), (0, 0), (20, 20), (20, 0), None),
        crossings=((20, 0), (-20, -20), None),
    ),
    "hole on the edge of a penalty area": Ground(
        features=(red("moat", box(-20, -20, 20, 0)),),
        balls=((0, -5), (0, 0), (0, 0.01)),
        crossings=((0, 0), (1e-4, 0), (2, 0)),
    ),
    "hole on a corner of a penalty area": Ground(
        features=(red("moat", Polygon([(0, 0), (-20, -10), (-20, -30), (20, -30)])),), balls=((0, -5), (0, 0)), crossings=((0, 0), (-2, -1))
    ),
    "penalty area that is the whole course": Ground(
        features=(red("sea", box(-300, -450, 300, 150)),), balls=((50, -50), (0, 0)), crossings=((300, 0), (300, 150), None)
    ),
    "penalty area larger than the course": Ground(
        features=(red("sea", box(-900, -900, 900, 900)),), balls=((50, -50),), crossings=((300, 0), None)
    ),
    "penalty area a tenth of a millimetre wide": Ground(
        features=(red("hair", box(-15, -60, 15, -59.9999)),), balls=((0, -60), (15, -60)), crossings=((0, -60), None)
    ),
    "penalty area two millimetres wide": Ground(
        features=(red("hair", box(-15, -60, 15, -59.998)),), balls=((0, -60), (-15, -60)), crossings=((0, -60), (-15, -60))
    ),
    "penalty area of no width": Ground(
        features=(red("line", Polygon([(-15, -60), (15, -60), (-15, -60)])),), balls=((0, -60),), crossings=((0, -60),)
    ),
    "two red ones that share an edge": Ground(
        features=(red("west", box(-20, -60, 0, -40)), red("east", box(0, -60, 20, -40))),
        balls=((0, -50), (0, -60), (0, -40)),
        crossings=((0, -60), (0, -40), (20, -50)),
    ),
    "a red and a yellow one that share an edge": Ground(
        features=(red("west", box(-20, -60, 0, -40)), red("east", box(0, -60, 20, -40), Mark.YELLOW)),
        balls=((0, -50), (-0.01, -60), (0.03, -40)),
        crossings=((0, -60), (0, -50), (20, -50)),
    ),
    "two that touch in a point": Ground(
        features=(red("west", box(-20, -60, 0, -50)), red("east", box(0, -50, 20, -40))), balls=((0, -50),), crossings=((0, -50),)
    ),
    "a yellow one round a red one round a bunker": Ground(
        features=(
            red("outer", Polygon(box(-20, -80, 20, -40).exterior, [box(-10, -70, 10, -50).exterior]), Mark.YELLOW),
            red("inner", Polygon(box(-10, -70, 10, -50).exterior, [box(-3, -63, 3, -57).exterior])),
            feature("core", BUNKER, box(-3, -63, 3, -57)),
        ),
        balls=((0, -60), (0, -52), (0, -50), (0, -45), (3, -57), (10, -50)),
        crossings=((0, -50), (0, -57), (10, -50), (3, -57), (20, -60)),
    ),
    "a green island": Ground(
        features=(red("lake", Polygon(box(-60, -60, 60, 60).exterior, [Point(0, 0).buffer(12.0, quad_segs=16).exterior])),),
        balls=((20, 0), (12, 0), (0, 0)),
        crossings=((12, 0), (60, 0), (-12, 0)),
    ),
    "one along the boundary": Ground(
        features=(red("ditch", box(290, -100, 310, -50)),),
        balls=((299, -60), (300, -60), (300.01, -60)),
        crossings=((290, -60), (300, -100)),
    ),
    "one that meets the boundary in a line": Ground(
        features=(red("ditch", box(300, -100, 310, -50)),), balls=((299.99, -60), (300, -60)), crossings=((300, -60), None)
    ),
    "the same one twice": Ground(
        features=(red("first", box(-15, -70, 15, -40)), red("second", box(-15, -70, 15, -40), Mark.YELLOW)),
        balls=((0, -50), (-15, -70)),
        crossings=((-15, -60), (-15, -70)),
    ),
}
CONDITIONS: dict[str, tuple[Polygon | MultiPolygon, tuple[tuple[float, float], ...]]] = {
    "condition over the whole course": (box(-300, -450, 300, 150), ((0, -50), (40, -40), (300, 150), (0, 0))),
    "condition over everything in reach": (Point(30, -60).buffer(120), ((30, -60), (0, 0))),
    "condition about the hole": (box(-3, -3, 3, 3), ((2, 2), (3, 3), (0, 0), (0, 0.001), (0.01, 0))),
    "condition with its edge at the hole": (box(0, -3, 6, 3), ((0, 0), (0, -1), (3, 0))),
    "condition with its corner at the ball": (box(0, -50, 6, -45), ((0, -50), (0, -49.9), (6, -45))),
    "condition a tenth of a millimetre wide": (box(-5, -50, 5, -49.9999), ((0, -50), (0, -49.98))),
    "condition in two touching parts": (MultiPolygon([box(-5, -55, 0, -50), box(0, -50, 5, -45)]), ((0, -50), (-2, -52))),
    "ring about the ball": (Polygon(Point(20, -60).buffer(9).exterior, [Point(20, -60).buffer(0.3).exterior]), ((20, -60), (20.3, -60))),
    "ring about the player": (Polygon(Point(20, -60).buffer(9).exterior, [Point(20, -60).buffer(1.5).exterior]), ((20, -60), (21.4, -60))),
    "condition along the boundary": (box(295, -100, 305, -40), ((297, -60), (300, -60), (300, -100))),
    "head of ten centimetres": (Point(20, -60).buffer(0.05), ((20, -60), (20.04, -60.01))),
    "condition smaller than a ball": (Point(20, -60).buffer(0.005), ((20, -60), (20.02, -60))),
}


def waters() -> Iterator[object]:
    yield from (pytest.param(ground, id=name) for name, ground in WATERS.items())


def conditions(*kinds: FeatureKind) -> Iterator[object]:
    for name, (outline, balls) in CONDITIONS.items():
        for kind in kinds:
            ground = Ground(features=(feature("it", kind, outline),), balls=balls)
            yield pytest.param(ground, id=f"{name}, {kind.value}")


def incidents(ground: Ground, situations: list[str], hands: tuple[Hand, ...] = (Hand.RIGHT,)) -> Iterator[Incident]:
    for situation in situations:
        for ball in ground.balls:
            for crossing in ground.crossings:
                for hand in hands:
                    yield Incident(
                        hole=1,
                        situation=situation,
                        form=Form.STROKE_PLAY,
                        ball=None if ball is None else place(ball),
                        player=Player(hand=hand, longest_club_in=45),
                        facts={"known_or_virtually_certain": True},
                        crossed_at=None if crossing is None else place(crossing),
                        previous_stroke=PreviousStroke(at=HOLE if situation == "lost" else None, area=Area.TEEING_AREA),
                        choice=Choice(back_m=12.0),
                    )


def place(xy: tuple[float, float]) -> Position:
    return Position(x_m=xy[0], y_m=xy[1])


def faults(ruling: Ruling) -> list[str]:
    """What is unsound about a ruling; nothing where all is well."""
    return [f"{option.procedure}: {fault}" for option in ruling.options for fault in option_faults(option)]


def option_faults(option: Option) -> Iterator[str]:
    if not option.citations:
        yield "no rule"
    numbers = [number for reference in option.references for number in reference.position.xy]
    numbers += [each for each in (option.no_nearer_m, option.size_m, option.margin_m) if each is not None]
    if not all(math.isfinite(number) for number in numbers):
        yield "a number that is none"
    for reference in option.references:
        if reference.clearance_m is not None and not reference.clearance_m >= -2e-3:
            yield f"relief at {reference.position} is short by {-reference.clearance_m:.4f} m"
    if option.line is not None:
        ends = [end_m for stretch in option.line.intervals_m for end_m in stretch]
        if ends != sorted(ends) or not all(math.isfinite(end_m) and end_m >= 0 for end_m in ends):
            yield f"stretches of the line: {ends}"
    area = option.relief_area
    if area is not None:
        outline = area.outline()
        if not outline.is_valid:
            yield "an outline that crosses itself"
        if not 0 <= outline.area <= area.area_m2 + 1e-6:
            yield f"drawn {outline.area} m² of {area.area_m2} m²"
        if not all(part.area_m2 > 0 and part.outline.is_valid and part.ground.is_valid for part in area.parts):
            yield "an unsound part"


def situations_for(ground: Ground) -> list[str]:
    known = [row.removeprefix("situation.") for row in packaged_catalogue().rows if row.startswith("situation.")]
    kinds = {each.kind.value for each in ground.features}
    return [name for name in known if name in kinds | {"unplayable"} or (name == "lost" and None in ground.balls)] or ["penalty-area"]


def check(ground: Ground, course_of: Course, books: dict[str, Book], hands: tuple[Hand, ...] = (Hand.RIGHT,)) -> int:
    """Put every incident to every book; the number of rulings that were given."""
    given = 0
    for incident in incidents(ground, situations_for(ground), hands):
        for edition, book in books.items():
            try:
                ruling = rule_on(incident, course_of, book)
            except MarramError as refusal:
                assert str(refusal).strip(), "a refusal without a word"
                continue
            assert faults(ruling) == [], f"{edition}, {incident.situation}, ball {incident.ball}, crossed at {incident.crossed_at}"
            given += 1
    return given


@pytest.mark.parametrize("ground", [*waters(), *conditions(OBSTRUCTION)])
def test_an_answer_or_one_clear_error(ground: Ground) -> None:
    check(ground, course(*ground.features), OLDEST_AND_NEWEST)


@pytest.mark.long
@pytest.mark.parametrize("ground", [*waters(), *conditions(OBSTRUCTION, REPAIR, WATER)])
def test_an_answer_or_one_clear_error_under_every_book(ground: Ground) -> None:
    check(ground, course(*ground.features), ALL_BOOKS, tuple(Hand))


@pytest.mark.long
@pytest.mark.parametrize("turn_deg", [17.0, 90.0, 211.3])
@pytest.mark.parametrize("ground", [*waters(), *conditions(OBSTRUCTION)])
def test_turned_about_the_hole(ground: Ground, turn_deg: float) -> None:
    """The same ground where nothing runs along the axes."""

    def turned(xy: tuple[float, float] | None) -> tuple[float, float] | None:
        at = None if xy is None else affinity.rotate(Point(xy), turn_deg, origin=(0, 0))
        return None if at is None else (at.x, at.y)

    turn = Motion(turn_deg=turn_deg, east_m=0.0, north_m=0.0, is_mirrored=False)
    outlines = {f.id: turn.ground(f.geometry) for f in ground.features if isinstance(f.geometry, Polygon | MultiPolygon)}
    features = [feature(f.id, f.kind, outlines[f.id], mark=f.mark) for f in ground.features]
    moved = Ground(features=tuple(features), balls=tuple(map(turned, ground.balls)), crossings=tuple(map(turned, ground.crossings)))
    boundary = affinity.rotate(box(-300, -450, 300, 150), turn_deg, origin=(0, 0))
    check(moved, course(*features, boundary=boundary), OLDEST_AND_NEWEST)


@pytest.mark.parametrize(
    "name", ["two red ones that share an edge", "hole inside a penalty area", "a green island", "one along the boundary"]
)
def test_rulings_are_given_on_such_ground(name: str) -> None:
    """The test above would also pass if everything were refused."""
    assert check(WATERS[name], course(*WATERS[name].features), OLDEST_AND_NEWEST) >= 2 * len(WATERS[name].balls)


def test_a_condition_over_everything_leaves_no_nearest_point() -> None:
    everywhere = feature("all", OBSTRUCTION, box(-300, -450, 300, 150))
    ground = Ground(features=(everywhere,), balls=((40.0, -40.0),))
    (incident,) = incidents(ground, ["immovable-obstruction"])
    for book in OLDEST_AND_NEWEST.values():
        ruling = rule_on(incident, course(everywhere), book)
        assert not any(reference.clearance_m is not None for option in ruling.options for reference in option.references)
        assert ruling.not_available


@pytest.mark.parametrize("kind", [OBSTRUCTION, RED, BUNKER])
@pytest.mark.parametrize("ring", [[(-5, -50), (5, -50), (-5, -50)], [(-5, -50), (5, -50), (0, -50)], [(-5, -50), (5, -50), (5, -50.0001)]])
def test_no_area_without_width_is_read_from_a_file(kind: FeatureKind, ring: list[tuple[float, float]]) -> None:
    flat = feature("flat", kind, Polygon(ring), mark=Mark.RED if kind is RED else None)
    with pytest.raises(SurveyError, match="flat.*holds no ground"):
        parse_course(write_course(course(flat)), where="flat.geojson")
