"""Every situation, in every edition, with a ball in every area of the course: an answer with its rule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from shapely.geometry import Point, box

from marram.core.errors import IncidentError
from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.core.units import INCH_M
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.partition import polygons_of
from marram.interchange.books.book_files import read_book
from marram.rulebook import Book, open_book, packaged_catalogue
from marram.rulings import Choice, Incident, Option, Player, PreviousStroke, Ruling, rule_on
from marram.rulings.case.facts_of_situation import facts_of_situation, known_facts
from marram.rulings.rule_on import situations
from tests.support.ground import course, feature, pond

CATALOGUE = packaged_catalogue()
BOOKS = {edition: open_book(edition, [], CATALOGUE) for edition in CATALOGUE.editions}
EDITIONS = tuple(BOOKS)
SITUATIONS = tuple(situations(BOOKS["2023"]))
BALLS = {
    Area.PENALTY_AREA: Position(x_m=0, y_m=-55),
    Area.BUNKER: Position(x_m=60, y_m=-60),
    Area.PUTTING_GREEN: Position(x_m=0, y_m=-6),
    Area.TEEING_AREA: Position(x_m=0, y_m=-380),
    Area.GENERAL_AREA: Position(x_m=40, y_m=-150),
    Area.OUT_OF_BOUNDS: Position(x_m=340, y_m=-100),
    None: None,
}
BANK = Position(x_m=-15, y_m=-60)
SAND = feature("sand", FeatureKind.BUNKER, Point(60, -60).buffer(8))
FAIRWAY = feature("fairway", FeatureKind.FAIRWAY, box(20, -300, 60, -100), holes=(1,))
CLUB_M = 45 * INCH_M


@cache
def ground_with(kinds: tuple[str, ...], ball: Position | None) -> Course:
    """The course with a condition of each kind under the ball; one for all editions and answers, so that it is cut once."""
    return course(pond(), SAND, FAIRWAY, *conditions_of(kinds, ball))


def conditions_about(situation: str, ball: Position | None, book: Book) -> tuple[Feature, ...]:
    """A condition of each of the situation's kinds under the ball."""
    return conditions_of(book.words(f"situation.{situation}.conditions").value, ball)


def conditions_of(kinds: tuple[str, ...], ball: Position | None) -> tuple[Feature, ...]:
    if ball is None:
        return ()
    spots = {kind: Point(ball.xy).buffer(0.6) for kind in kinds}
    greens = [feature("green-2", FeatureKind.PUTTING_GREEN, spot, holes=(2,)) for kind, spot in spots.items() if kind == "wrong-green"]
    return (*greens, *(feature(kind, FeatureKind(kind), spot) for kind, spot in spots.items() if kind != "wrong-green"))


def everything(situation: str, ball: Position | None, answer: bool | None) -> Incident:  # noqa: FBT001
    """An incident with every fact answered in one way, or with nothing told at all."""
    if answer is None:
        return Incident(hole=1, situation=situation, form=Form.STROKE_PLAY, ball=ball)
    return Incident(
        hole=1,
        situation=situation,
        form=Form.STROKE_PLAY,
        ball=ball,
        player=Player(hand=Hand.RIGHT, longest_club_in=45, putter_in=35, club=Club.WEDGE),
        facts=dict.fromkeys(known_facts(packaged_catalogue()), answer),
        crossed_at=BANK,
        previous_stroke=PreviousStroke(at=Position(x_m=30, y_m=-250), area=None),
        last_stroke_outside=PreviousStroke(at=Position(x_m=30, y_m=-300), area=None),
        estimated_at=Position(x_m=20, y_m=-120),
        choice=Choice(back_m=5),
    )


def sentences(ruling: Ruling) -> Iterator[str]:
    for option in ruling.options:
        yield from (option.title, *option.steps)
    for entry in ruling.not_available:
        yield from (entry.title, entry.because)
    yield from (line.text for line in ruling.lines)
    yield from (question.question for question in ruling.facts_needed)
    yield from (caution.text for caution in ruling.cautions)


def check(ruling: Ruling) -> None:
    assert ruling.options or ruling.not_available or ruling.facts_needed
    for option in ruling.options:
        assert option.steps and option.citations
        assert option.penalty_strokes in {0, 1, 2}
    assert all(entry.because and entry.citations for entry in ruling.not_available)
    for entry in ruling.not_available:
        is_given = (
            BOOKS[ruling.book].has_row(f"relief.{entry.procedure}") and BOOKS[ruling.book].yes(f"relief.{entry.procedure}.allowed").value
        )
        assert not (is_given and "edition does not give it" in entry.because), entry
    assert all(line.citations for line in ruling.lines)
    assert all(question.citations for question in ruling.facts_needed)
    for text in sentences(ruling):
        assert text.strip()
        assert "{" not in text and "}" not in text and "None" not in text, text
        assert "  " not in text and "()" not in text and " ." not in text, text


@pytest.mark.parametrize("answer", [True, False, None], ids=["yes to all", "no to all", "nothing known"])
@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("situation", SITUATIONS)
def test_a_ball_anywhere(situation: str, edition: str, answer: bool | None) -> None:  # noqa: FBT001
    book = BOOKS[edition]
    for area, ball in BALLS.items():
        ground = ground_with(book.words(f"situation.{situation}.conditions").value, ball)
        stated = everything(situation, ball, answer)
        if area is Area.OUT_OF_BOUNDS and not book.yes(f"situation.{situation}.ball_may_be_out").value:
            with pytest.raises(IncidentError, match="outside the boundary"):
                rule_on(stated, ground, book)
            continue
        check(rule_on(stated, ground, book))


def told(situation: str, ball: Position | None, *features: Feature, book: Book, **facts: bool) -> Ruling:
    """The ruling on a ball of a right-handed player with a 45 in driver, on the course with the features given."""
    stated = Incident(
        hole=1,
        situation=situation,
        form=Form.STROKE_PLAY,
        ball=ball,
        player=Player(hand=Hand.RIGHT, longest_club_in=45, club=Club.WEDGE),
        facts=facts,
        crossed_at=BANK if ball is not None and features and features[0].kind is FeatureKind.PENALTY_AREA else None,
        previous_stroke=PreviousStroke(at=Position(x_m=30, y_m=-250), area=None),
    )
    return rule_on(stated, course(*features), book)


def names(ruling: Ruling) -> list[str]:
    return [option.procedure for option in ruling.options]


def option_of(ruling: Ruling, procedure: str) -> Option:
    (found,) = [option for option in ruling.options if procedure in {option.procedure, option.carried_out_as}]
    return found


def why_not(ruling: Ruling, procedure: str) -> str:
    (found,) = [entry.because for entry in ruling.not_available if entry.procedure == procedure]
    return found


def at(x_m: float, y_m: float) -> Position:
    return Position(x_m=x_m, y_m=y_m)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("situation", ["ground-under-repair", "temporary-water", "animal-hole", "dangerous-animal"])
def test_a_ball_on_the_teeing_area_is_not_told_that_it_lies_in_water(situation: str, edition: str) -> None:
    ball = BALLS[Area.TEEING_AREA]
    ruling = told(situation, ball, *conditions_about(situation, ball, BOOKS[edition]), book=BOOKS[edition])
    assert not any(word in entry.because for entry in ruling.not_available for word in ("penalty area", "hazard"))


FLOOD = feature("flood", FeatureKind.TEMPORARY_WATER, Point(60, -60).buffer(14), what="water")
SLAB = feature("slab", FeatureKind.IMMOVABLE_OBSTRUCTION, Point(60, -60).buffer(14), what="slab")


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_bunker_full_of_temporary_water(edition: str) -> None:
    """Rules of Golf (January 2016), Rule 25-1b(ii)(a): an exact spot; Rules of Golf (January 2019), Rule 16.1c(1): a full area."""
    ruling = told("temporary-water", BALLS[Area.BUNKER], SAND, FLOOD, book=BOOKS[edition])
    inside = option_of(ruling, "ground-condition-bunker-free")
    assert inside.penalty_strokes == 0
    assert {reference.kind for reference in inside.references} == {"point-of-maximum-available-relief"}
    assert (inside.relief_area is None) is (edition == "2016")
    if inside.relief_area is not None:
        assert inside.relief_area.outline().difference(SAND.geometry).area < 1e-6
        assert inside.relief_area.area_m2 > 0.1
    assert option_of(ruling, "ground-condition-bunker-outside").penalty_strokes == 1


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_bunker_that_a_fixed_obstruction_fills(edition: str) -> None:
    """Rules of Golf (January 2016), Rule 24-2b(ii): no spot of most relief; Rules of Golf (January 2019), Rule 16.1c(1)."""
    ruling = told("immovable-obstruction", BALLS[Area.BUNKER], SAND, SLAB, book=BOOKS[edition])
    assert ("immovable-obstruction-bunker-free" in names(ruling)) is (edition != "2016")
    if edition == "2016":
        assert "no such point" in why_not(ruling, "immovable-obstruction-bunker-free")
    else:
        inside = option_of(ruling, "immovable-obstruction-bunker-free")
        assert inside.references[0].kind == "point-of-maximum-available-relief"
        assert inside.size_m == pytest.approx(20 * INCH_M if edition == "draft-2017" else CLUB_M)
    assert option_of(ruling, "immovable-obstruction-bunker-outside").penalty_strokes == 1


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("situation", "kind"), [("temporary-water", "temporary-water"), ("immovable-obstruction", "immovable-obstruction")]
)
@pytest.mark.parametrize("is_on_green", [True, False])
def test_a_condition_on_the_line_of_a_putt(edition: str, situation: str, kind: str, is_on_green: bool) -> None:  # noqa: FBT001
    """Rules of Golf (January 2016), Rules 24-2a and 25-1a: on the green alone; Rules of Golf (January 2019), Rule 16.1a(1): on or off.

    The green has a notch that the putt crosses; the puddle lies on the green or in the notch.
    """
    notch = box(-1.2, -6, 1.2, -3)
    green = feature(
        "green-1", FeatureKind.PUTTING_GREEN, polygons_of(Point(0, 0).buffer(12, quad_segs=16).difference(box(-2, -7, 20, -2))), holes=(1,)
    )
    puddle = notch if not is_on_green else box(-1.2, -8.6, 1.2, -7.4)
    ground = course(feature("puddle", FeatureKind(kind), puddle))
    own = tuple(green if own.id == "green-1" else own for own in ground.features)
    stated = replace(everything(situation, at(0, -11), False), facts={})
    ruling = rule_on(stated, replace(ground, features=own), BOOKS[edition])
    row = "immovable-obstruction-putting-green" if kind == "immovable-obstruction" else "ground-condition-putting-green"
    assert (row in names(ruling)) is (is_on_green or edition != "2016")
    if row in names(ruling):
        option = option_of(ruling, row)
        assert (option.penalty_strokes, option.put, option.relief_area) == (0, "place", None)
        assert option.met is not None
        assert option.met.parts == {"line of play"}


ZONE = feature("zone", FeatureKind.NO_PLAY_ZONE, box(-3, -60, 3, -50), what="reeds")


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_ball_in_a_no_play_zone_in_the_penalty_area(edition: str) -> None:
    """Rules of Golf (January 2019), Rule 17.1e: in the zone, relief under penalty; with the stance alone in it, free relief as well."""
    inside = told("no-play-zone", at(0, -55), pond(), ZONE, book=BOOKS[edition])
    assert "no-play-zone-in-penalty-area" not in names(inside)
    assert {option.penalty_strokes for option in inside.options} == {1}
    stance = told("no-play-zone", at(3.3, -55), pond(), ZONE, book=BOOKS[edition])
    if edition == "2016":
        assert "local rule" in why_not(stance, "no-play-zone-in-penalty-area")
        return
    free = option_of(stance, "no-play-zone-in-penalty-area")
    assert (free.penalty_strokes, free.is_mandatory) == (0, True)
    assert free.relief_area is not None
    assert free.relief_area.outline().difference(pond().geometry).area < 1e-6
    assert {option.penalty_strokes for option in stance.options} == {0, 1}


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_ball_in_a_zone_must_be_taken_out(edition: str) -> None:
    """Rules of Golf (January 2019), Rule 17.1e: every way out of the zone must be told as one that must be taken."""
    ruling = told("no-play-zone", at(40, -150), feature("zone", FeatureKind.NO_PLAY_ZONE, Point(40, -150).buffer(2)), book=BOOKS[edition])
    (option,) = ruling.options
    assert option.is_mandatory
    assert "must not be played as it lies" in option.steps[0]


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_wrong_green_for_the_stance_alone(edition: str) -> None:
    """Rules of Golf (January 2016), Rule 25-3: the ball alone; Rules of Golf (January 2019), Rule 13.1f: the stance as well."""
    other = feature("green-2", FeatureKind.PUTTING_GREEN, box(30, -160, 40, -140), holes=(2,))
    stance = told("wrong-green", at(40.2, -150), other, book=BOOKS[edition])
    assert names(stance) == ([] if edition == "2016" else ["wrong-green-relief"])
    on_it = option_of(told("wrong-green", at(39, -150), other, book=BOOKS[edition]), "wrong-green-relief")
    assert (on_it.penalty_strokes, on_it.is_mandatory) == (0, True)
    assert on_it.relief_area is not None
    assert on_it.relief_area.outline().intersection(other.geometry).area < 1e-6


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_ball_lost_in_temporary_water(edition: str) -> None:
    """Rules of Golf (January 2016), Rule 25-1c; Rules of Golf (January 2019), Rule 16.1e: from where it went in, any ball, no penalty."""
    pool = feature("pool", FeatureKind.TEMPORARY_WATER, box(30, -170, 60, -140), what="pool")
    stated = replace(everything("temporary-water", None, False), facts={"known_in_condition": True}, crossed_at=at(30, -160))
    (option,) = rule_on(stated, course(pool), BOOKS[edition]).options
    assert option.procedure == "ball-lost-in-condition"
    assert (option.penalty_strokes, option.which) == (0, "any")
    assert option.references[0].position.distance_m(at(30, -160)) < 2
    assert option.size_m == pytest.approx(20 * INCH_M if edition == "draft-2017" else CLUB_M)
    unknown = rule_on(replace(stated, facts={}), course(pool), BOOKS[edition])
    assert [question.fact for question in unknown.facts_needed] == ["known_in_condition"]
    from_pond = feature("pool", FeatureKind.TEMPORARY_WATER, box(-14, -65, 40, -50), what="pool")
    into_water = rule_on(replace(stated, crossed_at=at(-14, -60)), course(pond(), from_pond), BOOKS[edition])
    assert into_water.options == ()


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_dropping_zone(edition: str) -> None:
    """A zone costs what the relief costs that it takes the place of (Model Local Rule E-1; 2016: Appendix I)."""
    marked = feature("drop", FeatureKind.DROPPING_ZONE, box(-40, -100, -36, -96), holes=(1,))
    zone = option_of(told("penalty-area", at(0, -55), pond(), marked, book=BOOKS[edition]), "dropping-zone")
    assert zone.penalty_strokes == 1
    assert zone.relief_area is not None
    assert zone.relief_area.area_m2 == pytest.approx(16)
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(40, -160, 43, -140), what="path")
    assert option_of(told("immovable-obstruction", at(41, -150), path, marked, book=BOOKS[edition]), "dropping-zone").penalty_strokes == 0
    assert "dropping-zone" not in names(told("penalty-area", at(0, -55), pond(), book=BOOKS[edition]))


@pytest.mark.parametrize("edition", EDITIONS)
def test_of_two_dropping_zones_the_one_nearest_to_the_ball_serves(edition: str) -> None:
    """The ball lies on a path at (41, -150): the zone of 16 m² is 10 m away, that of 4 m² about 150 m, beside the hole."""
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, box(40, -160, 43, -140), what="path")
    zones = (
        feature("far", FeatureKind.DROPPING_ZONE, box(10, 0, 12, 2), holes=(1,)),
        feature("near", FeatureKind.DROPPING_ZONE, box(50, -155, 54, -151), holes=(1,)),
    )
    zone = option_of(told("immovable-obstruction", at(41, -150), path, *zones, book=BOOKS[edition]), "dropping-zone")
    assert zone.relief_area is not None
    assert zone.relief_area.area_m2 == pytest.approx(16)


@pytest.mark.parametrize("edition", EDITIONS)
def test_an_embedded_ball_in_fairway_and_rough(edition: str) -> None:
    """Rules of Golf (January 2016), Rule 25-2: closely mown ground; Rules of Golf (January 2019), Rule 16.3: the general area."""
    facts = {"in_own_pitch_mark": True, "below_ground_level": True, "trodden_in": False, "never_airborne": False, "embedded_by_drop": False}
    on_fairway = told("embedded", at(40, -150), FAIRWAY, book=BOOKS[edition], embedded=True, **facts)
    in_rough = told("embedded", at(80, -150), FAIRWAY, book=BOOKS[edition], embedded=True, **facts)
    assert names(on_fairway) == ["embedded-ball-general"]
    assert names(in_rough) == ([] if edition == "2016" else ["embedded-ball-general"])
    option = on_fairway.options[0]
    assert (option.relief_area is None) is (edition == "2016")
    assert option.references[0].position.distance_m(at(40, -150)) < 0.025


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_movable_obstruction(edition: str) -> None:
    """Rules of Golf (January 2016), Rule 24-1; Rules of Golf (January 2019), Rule 15.2a: beside the ball, or with the ball in or on it."""
    beside = told("movable-obstruction", at(40, -150), book=BOOKS[edition], ball_in_or_on_object=False)
    (option,) = beside.options
    assert (option.procedure, option.penalty_strokes, option.put) == ("movable-obstruction-ball-not-on", 0, "as-it-lies")
    on_it = told("movable-obstruction", at(40, -150), book=BOOKS[edition], ball_in_or_on_object=True)
    (option,) = on_it.options
    assert (option.procedure, option.penalty_strokes, option.put) == ("movable-obstruction-ball-in-or-on", 0, "drop")
    (option,) = told("movable-obstruction", BALLS[Area.PUTTING_GREEN], book=BOOKS[edition], ball_in_or_on_object=True).options
    assert (option.put, option.relief_area) == ("place", None)
    unknown = told("movable-obstruction", at(40, -150), book=BOOKS[edition])
    assert "ball_in_or_on_object" in [question.fact for question in unknown.facts_needed]


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_stroke_from_a_penalty_area_that_goes_out_of_bounds(edition: str) -> None:
    """Rules of Golf (January 2016), Rule 26-2b; Rules of Golf (January 2019), Rule 17.2b: one stroke inside, two in all outside."""
    stated = replace(
        everything("out-of-bounds", BALLS[Area.OUT_OF_BOUNDS], False),
        facts={},
        previous_stroke=PreviousStroke(at=at(0, -55), area=None),
    )
    ruling = rule_on(stated, course(pond()), BOOKS[edition])
    strokes = [(option.procedure, option.carried_out_as, option.penalty_strokes) for option in ruling.options]
    outside = ["penalty-area-back-on-line", "penalty-area-lateral-red", "played-from-penalty-area-into-same"]
    assert strokes == [
        ("lost-or-out-of-bounds", "", 1),
        *(("played-from-penalty-area-lost-outside", row, 2) for row in outside),
    ]
    again = ruling.options[0]
    assert again.references[0].position == at(0, -55)
    assert ruling.options[3].references[0].position == at(30, -300)


@pytest.mark.parametrize("edition", EDITIONS)
def test_preferred_lies_where_the_committee_adopts_them(edition: str) -> None:
    """Model Local Rule E-3; 2016: Appendix I. Only on ground cut to fairway height, and once."""
    plain = told("preferred-lies", at(40, -150), FAIRWAY, book=BOOKS[edition])
    assert plain.options == ()
    assert "adopted the local rule" in why_not(plain, "preferred-lies")
    for name, size_m in (("preferred-lies", CLUB_M), ("preferred-lies-6-in", 6 * INCH_M)):
        book = read_book(f"{edition}+{name}")
        option = option_of(told("preferred-lies", at(40, -150), FAIRWAY, book=book), "preferred-lies")
        assert (option.penalty_strokes, option.put) == (0, "place")
        assert option.size_m == pytest.approx(size_m)
        assert option.no_nearer_m == pytest.approx(at(40, -150).distance_m(at(0, 0)))
        assert "nce only" in " ".join(option.steps)
        assert told("preferred-lies", at(80, -150), FAIRWAY, book=book).options == ()


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_a_ball_in_a_zone_in_the_penalty_area_may_not_be_played_as_it_lies(edition: str) -> None:
    """Rules of Golf (January 2019), Rule 17.1e: the player must take relief under penalty."""
    ruling = told("no-play-zone", at(0, -55), pond(), ZONE, book=BOOKS[edition])
    assert all(option.is_mandatory for option in ruling.options)


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_a_zone_in_the_penalty_area_and_the_ball_beside_it(edition: str) -> None:
    """Rules of Golf (January 2019), Rule 16.1f(2): the stance alone is in the zone, and relief must be taken."""
    zone = feature("zone", FeatureKind.NO_PLAY_ZONE, box(10, -62, 15, -58), what="reeds")
    ruling = told("no-play-zone", at(15.3, -60), pond(), zone, book=BOOKS[edition])
    assert ruling.options
    for option in ruling.options:
        assert (option.penalty_strokes, option.is_mandatory) == (0, True)
        assert option.relief_area is not None
        assert option.relief_area.outline().intersection(pond().geometry).area < 1e-6


@pytest.mark.parametrize("edition", ["2016", "2019", "2023"])
def test_a_dangerous_animal_in_the_penalty_area(edition: str) -> None:
    """Decision 1-4/10 (2016); Rules of Golf (January 2019), Rule 16.2: free inside the same area, or out of it under penalty."""
    snake = feature("snake", FeatureKind.DANGEROUS_ANIMAL, box(-2, -57, 2, -53), what="snake")
    ruling = told("dangerous-animal", at(0, -55), pond(), snake, book=BOOKS[edition])
    free = option_of(ruling, "dangerous-animal-in-penalty-area")
    assert free.penalty_strokes == 0
    assert free.relief_area is not None
    assert free.relief_area.outline().difference(pond().geometry).area < 1e-6
    assert {option.penalty_strokes for option in ruling.options if option is not free} == {1}


def open_rows(edition: str) -> set[str]:
    book = BOOKS[edition]
    return {name.removeprefix("relief.") for name in book.catalogue.rows if name.startswith("relief.") and book.has_row(name)}


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_protected_tree(edition: str) -> None:
    """Model Local Rule E-10; 2016: Appendix I: nothing without the local rule, and relief that must be taken with it."""
    tree = feature("sapling", FeatureKind.YOUNG_TREE, Point(40, -150).buffer(0.5), what="sapling")
    assert told("young-tree", at(40, -150), tree, book=BOOKS[edition]).options == ()
    name = "young-trees" if "young-trees-in-penalty-area" in open_rows(edition) else "young-trees-through-the-green"
    option = option_of(told("young-tree", at(40, -150), tree, book=read_book(f"{edition}+{name}")), "young-trees")
    assert (option.penalty_strokes, option.is_mandatory) == (0, True)
    assert option.which == ("original-if-recoverable" if edition == "2016" else "any")


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_a_protected_tree_in_the_penalty_area_in_the_way_of_the_stance(edition: str) -> None:
    """Model Local Rule E-10, which points to Rule 17.1e: free relief inside where only stance or swing is interfered with."""
    tree = feature("sapling", FeatureKind.YOUNG_TREE, Point(0, -55).buffer(0.5), what="sapling")
    ruling = told("young-tree", at(0.9, -55), pond(), tree, book=read_book(f"{edition}+young-trees"))
    assert 0 in {option.penalty_strokes for option in ruling.options}


@pytest.mark.parametrize("edition", EDITIONS)
def test_an_object_near_the_green_on_the_line(edition: str) -> None:
    """Model Local Rule F-5.1; 2016: Appendix I: two club-lengths from the green and from the ball; 2016 on a spot, not in an area."""
    head = feature("head", FeatureKind.IMMOVABLE_OBSTRUCTION, Point(0, -13).buffer(0.15), what="head")
    book = read_book(f"{edition}+objects-near-the-green")
    option = option_of(told("immovable-obstruction", at(0, -14.5), head, book=book), "green-edge-obstruction-local-rule")
    assert (option.penalty_strokes, option.put) == (0, "drop")
    assert (option.relief_area is None) is (edition == "2016")
    assert option.met is not None
    assert option.met.parts == {"line of play"}
    assert told("immovable-obstruction", at(0, -14.5), head, book=BOOKS[edition]).options == ()
    assert told("immovable-obstruction", at(0, -20), head, book=book).options == ()


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_stand_on_the_line(edition: str) -> None:
    """Model Local Rule F-23: sideways, as far from the hole, until the stand is off the line; 2016, Appendix I, A-7: the nearest point."""
    stand = feature("stand", FeatureKind.TEMPORARY_IMMOVABLE_OBSTRUCTION, box(30, -145, 45, -140), what="stand")
    ruling = told("temporary-immovable-obstruction", at(40, -150), stand, book=read_book(f"{edition}+stands-and-tents"))
    option = option_of(ruling, "temporary-immovable-obstruction")
    assert option.penalty_strokes == 0
    reference, hole_m = option.references[0], at(40, -150).distance_m(at(0, 0))
    is_sideways = edition != "2016"
    assert reference.kind == ("equal-arc-point" if is_sideways else "nearest-point-of-complete-relief")
    found_m = reference.position.distance_m(at(0, 0))
    assert found_m == pytest.approx(hole_m, abs=1e-3) if is_sideways else found_m >= hole_m - 1e-3
    assert told("temporary-immovable-obstruction", at(40, -150), stand, book=BOOKS[edition]).options == ()


def test_a_ball_that_rolled_out_of_its_area_back_on_the_line() -> None:
    """Model Local Rule E-12 (April 2019): no penalty within a club-length of where it first touched, and none needed since 2023."""
    stated = replace(everything("penalty-area", at(0, -55), False), facts={"dropped_ball_rested_outside": True})
    assert "back-on-line-local-rule" not in names(rule_on(stated, course(pond()), BOOKS["2019"]))
    relaxed = option_of(rule_on(stated, course(pond()), read_book("2019+back-on-the-line-relaxed")), "back-on-line-local-rule")
    assert relaxed.penalty_strokes == 0
    assert relaxed.no_nearer_m == pytest.approx(BANK.distance_m(at(0, 0)))
    assert "Not needed" in why_not(rule_on(stated, course(pond()), BOOKS["2023"]), "back-on-line-local-rule")


@pytest.mark.parametrize("edition", ["2019", "2023"])
def test_a_provisional_ball_for_a_ball_that_may_be_in_the_penalty_area(edition: str) -> None:
    """Model Local Rule B-3: for a ball that is not known to be there."""
    stated = replace(everything("provisional", None, False), facts={"known_in_penalty_area": False, "search_time_ended": False})
    marked = feature("drop", FeatureKind.DROPPING_ZONE, box(-40, -100, -36, -96), holes=(1,))
    ruling = rule_on(stated, course(pond(), marked), read_book(f"{edition}+provisional-near-penalty-areas"))
    carried_out = {option.carried_out_as for option in ruling.options if option.procedure.startswith("provisional-for")}
    lateral = {"penalty-area-stroke-and-distance", "penalty-area-back-on-line", "penalty-area-lateral-red"}
    assert carried_out == lateral | {"dropping-zone"}


def test_a_wheeled_device_is_part_of_the_stance() -> None:
    """Rules of Golf (January 2023), Rule 25.4; 2019 where the Committee adopts the modified rules."""
    option = option_of(told("wheeled-device", at(40, -150), book=BOOKS["2023"], uses_wheeled_device=True), "wheeled-device-stance")
    assert (option.penalty_strokes, option.put) == (0, "as-it-lies")
    earlier = told("wheeled-device", at(40, -150), book=BOOKS["2019"], uses_wheeled_device=True)
    assert "adopted the local rule" in why_not(earlier, "wheeled-device-stance")
    assert names(told("wheeled-device", at(40, -150), book=read_book("2019+wheeled-device-stance"), uses_wheeled_device=True))
    placed = told("wheeled-device", at(40, -150), FAIRWAY, book=read_book("2023+wheeled-device-placing"), uses_wheeled_device=True)
    assert option_of(placed, "wheeled-device-placing-local-rule").size_m == pytest.approx(6 * INCH_M)


NOT_MET = {"known_in_penalty_area", "previous_stroke_from_penalty_area", "stroke_from_green", "dangerous_animal"}
"""Facts that only some ground brings up, or that the situation brings with it."""


class Asked(dict[str, bool]):
    """Facts of an incident, each answered alike, that note which of them a ruling looks up."""

    def __init__(self, answer: bool | None) -> None:  # noqa: FBT001
        super().__init__()
        self.answer, self.looked_up = answer, set[str]()

    def get(self, name: str, default: object = None) -> bool | None:  # type: ignore[override]  # the incident's look-up takes no default
        self.looked_up.add(name)
        return self.answer


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("situation", SITUATIONS)
def test_what_a_ruling_looks_up_is_what_the_book_is_said_to_read(edition: str, situation: str) -> None:
    """Seen from outside: the ruling is made over facts that note every look-up, with the ball in each area."""
    book = BOOKS[edition]
    looked_up: set[str] = set()
    for ball, answer in [(ball, answer) for ball in BALLS.values() for answer in (None, False)]:
        facts = Asked(answer)
        ground = ground_with(book.words(f"situation.{situation}.conditions").value, ball)
        try:
            rule_on(replace(everything(situation, ball, True), facts=facts), ground, book)
        except IncidentError:
            continue
        finally:
            looked_up |= facts.looked_up
    read = set(facts_of_situation(book, situation))
    assert looked_up <= read
    assert read - looked_up <= NOT_MET, read - looked_up


@pytest.mark.parametrize(("serves", "is_given"), [("", True), ("pond", True), ("burn", False)])
def test_a_dropping_zone_for_another_penalty_area_is_not_told(serves: str, is_given: bool) -> None:
    """Rules of Golf (January 2023), Model Local Rule E-1: the Committee gives a zone for the area that it names."""
    marked = replace(feature("zone", FeatureKind.DROPPING_ZONE, box(20, -90, 24, -86), holes=(1,)), serves=serves)
    found = told("penalty-area", at(0, -55), pond(), marked, book=BOOKS["2023"])
    assert ("dropping-zone" in names(found)) is is_given
