"""What mapped tags mean on a course, and widths as mappers write them."""

from __future__ import annotations

import pytest

from marram.core.terms import FeatureKind, Mark
from marram.interchange.maps.map_tags import Meaning, NotTaken, meaning_of, metres_of, width_of

_K = FeatureKind


@pytest.mark.parametrize(
    ("tags", "kind", "what"),
    [
        ({"golf": "green"}, _K.PUTTING_GREEN, ""),
        ({"golf": "tee"}, _K.TEEING_AREA, ""),
        ({"golf": "bunker", "natural": "sand"}, _K.BUNKER, ""),
        ({"golf": "hole", "highway": "path"}, _K.LINE_OF_PLAY, ""),
        ({"golf": "pin"}, _K.HOLE_LOCATION, ""),
        ({"golf": "lateral_water_hazard", "natural": "water"}, _K.PENALTY_AREA, "water"),
        ({"natural": "water"}, _K.PENALTY_AREA, "pond"),
        ({"natural": "water", "water": "lake"}, _K.PENALTY_AREA, "lake"),
        ({"natural": "wetland"}, _K.PENALTY_AREA, "wetland"),
        ({"landuse": "reservoir"}, _K.PENALTY_AREA, "pond"),
        ({"waterway": "stream"}, _K.PENALTY_AREA, "stream"),
        ({"waterway": "ditch"}, _K.PENALTY_AREA, "ditch"),
        ({"barrier": "ditch"}, _K.PENALTY_AREA, "ditch"),
        ({"highway": "path"}, _K.IMMOVABLE_OBSTRUCTION, "path"),
        ({"highway": "track", "surface": "gravel"}, _K.IMMOVABLE_OBSTRUCTION, "track"),
        ({"highway": "path", "surface": "woodchips"}, _K.IMMOVABLE_OBSTRUCTION, "path"),
        ({"golf": "cartpath"}, _K.IMMOVABLE_OBSTRUCTION, "path"),
        ({"barrier": "fence"}, _K.IMMOVABLE_OBSTRUCTION, "fence"),
        ({"barrier": "wall"}, _K.IMMOVABLE_OBSTRUCTION, "wall"),
        ({"barrier": "hedge"}, _K.TREES, "hedge"),
        ({"building": "yes"}, _K.IMMOVABLE_OBSTRUCTION, "building"),
        ({"amenity": "shelter"}, _K.IMMOVABLE_OBSTRUCTION, "building"),
        ({"natural": "wood"}, _K.TREES, "wood"),
        ({"landuse": "forest"}, _K.TREES, "wood"),
        ({"natural": "scrub"}, _K.TREES, "scrub"),
        ({"natural": "tree_row"}, _K.TREES, "row of trees"),
        ({"natural": "tree"}, _K.TREES, "tree"),
    ],
)
def test_what_tags_mean(tags: dict[str, str], kind: FeatureKind, what: str) -> None:
    found = meaning_of(tags)
    assert isinstance(found, Meaning)
    assert (found.kind, found.what) == (kind, what)


@pytest.mark.parametrize(
    ("tags", "what"),
    [
        ({"golf": "driving_range"}, "driving range"),
        ({"golf": "rough"}, "rough"),
        ({"landuse": "farmland"}, "farmland"),
        ({"leisure": "pitch", "sport": "tennis"}, "pitch"),
        ({"amenity": "parking"}, "parking"),
        ({"highway": "path", "surface": "grass"}, "path of grass"),
        ({"waterway": "stream", "tunnel": "culvert"}, "stream"),
        ({"highway": "service", "tunnel": "yes"}, "service"),
    ],
)
def test_what_is_left_out_has_a_noun_and_a_reason(tags: dict[str, str], what: str) -> None:
    found = meaning_of(tags)
    assert isinstance(found, NotTaken)
    assert found.what == what
    assert found.why


def test_tags_that_say_nothing_of_the_ground_mean_nothing() -> None:
    assert meaning_of({"source": "survey"}) is None
    assert meaning_of({}) is None


@pytest.mark.parametrize(
    ("surface", "is_unknown"), [("asphalt", False), ("gravel", False), ("", True), ("unpaved", True), ("never-heard-of", True)]
)
def test_a_way_of_unknown_surface_is_kept_as_unknown(surface: str, is_unknown: bool) -> None:
    found = meaning_of({"highway": "path", "surface": surface})
    assert isinstance(found, Meaning)
    assert found.surface_unknown is is_unknown


@pytest.mark.parametrize(("value", "mark"), [("water_hazard", Mark.YELLOW), ("lateral_water_hazard", Mark.RED)])
def test_old_words_for_water_propose_a_mark(value: str, mark: Mark) -> None:
    found = meaning_of({"golf": value})
    assert isinstance(found, Meaning)
    assert found.proposed is mark


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("2", 2.0),
        ("2.5 m", 2.5),
        ("2,5", 2.5),
        ("3 metres", 3.0),
        ("8 ft", 8 * 0.3048),
        ("6'", 6 * 0.3048),
        ("6'6\"", 6.5 * 0.3048),
        (" 4 ", 4.0),
        ("wide", None),
        ("-2", None),
        ("2-3", None),
        ("", None),
        ("2 km", None),
    ],
)
def test_lengths_as_mappers_write_them(text: str, metres: float | None) -> None:
    assert metres_of(text) == (None if metres is None else pytest.approx(metres))


def test_a_width_that_cannot_be_is_told() -> None:
    assert width_of({"width": "0"}) == (None, "width '0' cannot be read as metres or feet")
    assert width_of({"width": "5000"})[0] is None
    assert width_of({"est_width": "3"}) == (3.0, "")
    assert width_of({}) == (None, "")
