"""What the tags of open map data mean on a golf course: kind, noun, usual width, and what is left out.

Widths of lines that state none are common practice, not surveyed; the import says so of each.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from marram.core.terms import FeatureKind, Mark

FOOT_M, INCH_M = 0.3048, 0.0254
_METRES = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(m|metres?|meters?)?\s*", re.IGNORECASE)
_FEET = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(?:ft|feet|foot|')\s*(?:(\d+(?:[.,]\d+)?)\s*(?:in|\"))?\s*", re.IGNORECASE)
_WIDEST_M = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """What a mapped thing is on the course.

    Attributes:
        kind: What it is.
        what: A plain noun.
        width_m: Usual width of a line, metres; None for what is an area or a point.
        proposed: The mark that its tags suggest; None where they suggest none.
        surface_unknown: Whether it is an obstruction only if its surface is artificial, which no tag says.
    """

    kind: FeatureKind
    what: str
    width_m: float | None = None
    proposed: Mark | None = None
    surface_unknown: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NotTaken:
    """A thing that has no place on the course."""

    what: str
    why: str


_GOLF = {
    "hole": Meaning(kind=FeatureKind.LINE_OF_PLAY, what=""),
    "green": Meaning(kind=FeatureKind.PUTTING_GREEN, what=""),
    "tee": Meaning(kind=FeatureKind.TEEING_AREA, what=""),
    "fairway": Meaning(kind=FeatureKind.FAIRWAY, what=""),
    "bunker": Meaning(kind=FeatureKind.BUNKER, what=""),
    "pin": Meaning(kind=FeatureKind.HOLE_LOCATION, what=""),
    "water_hazard": Meaning(kind=FeatureKind.PENALTY_AREA, what="water", proposed=Mark.YELLOW),
    "lateral_water_hazard": Meaning(kind=FeatureKind.PENALTY_AREA, what="water", proposed=Mark.RED),
    "cartpath": Meaning(kind=FeatureKind.IMMOVABLE_OBSTRUCTION, what="path", width_m=2.5),
    "path": Meaning(kind=FeatureKind.IMMOVABLE_OBSTRUCTION, what="path", width_m=1.5, surface_unknown=True),
}
_GOLF_NOT = {
    "rough": "the general area needs no outline of its own",
    "driving_range": "practice ground is no area of the course",
    "practice": "practice ground is no area of the course",
}
_WATERWAYS = {"stream": 1.5, "brook": 1.5, "ditch": 1.0, "drain": 1.0, "canal": 6.0, "river": 10.0}
_ROADS = {
    "path": ("path", 1.5),
    "footway": ("path", 1.5),
    "bridleway": ("path", 2.0),
    "steps": ("steps", 1.5),
    "cycleway": ("path", 2.5),
    "track": ("track", 2.5),
    "service": ("service road", 3.0),
    "pedestrian": ("path", 4.0),
    "living_street": ("road", 5.0),
    "residential": ("road", 5.0),
    "unclassified": ("road", 5.0),
    "tertiary": ("road", 6.0),
    "secondary": ("road", 7.0),
    "primary": ("road", 8.0),
    "trunk": ("road", 8.0),
}
_BARRIERS = {"wall": 0.4, "retaining_wall": 0.4, "city_wall": 1.0, "fence": 0.1, "guard_rail": 0.2}
_EARTH = frozenset({"earth", "dirt", "grass", "ground", "sand", "mud", "soil", "rock", "snow", "unpaved_natural"})
# Foreign material put on a way makes it artificial, wood chips and gravel too (from memory); "unpaved" alone does not say which.
_ARTIFICIAL = frozenset(
    {
        "paved", "asphalt", "concrete", "concrete:plates", "paving_stones", "sett", "cobblestone", "gravel",
        "fine_gravel", "compacted", "pebblestone", "metal", "wood", "bricks", "chipseal", "tartan", "artificial_turf", "woodchips",
        "bark_mulch", "grass_paver", "concrete:lanes", "metal_grid", "rubber", "plastic",
    }
)  # fmt: skip
_HEDGE = Meaning(kind=FeatureKind.TREES, what="hedge", width_m=1.0)
_TREES = {"wood": "wood", "forest": "wood", "scrub": "scrub"}
TREE_RADIUS_M = 2.0
"""Half the spread of a single tree that states none: common practice."""
_KEYS = (
    "golf", "natural", "water", "waterway", "highway", "barrier", "building", "landuse", "man_made", "leisure", "amenity", "sport",
    "railway", "power", "tourism", "place", "boundary", "public_transport",
)  # fmt: skip


def meaning_of(tags: Mapping[str, str]) -> Meaning | NotTaken | None:
    """What a thing is by its tags.

    Returns:
        What it is on the course, why it is left out, or None where no tag says anything about the ground.
    """
    if tags.get("tunnel", "no") != "no" and "building" not in tags:
        return NotTaken(what=_noun(tags) or "tunnel", why="it runs under the ground")
    for reader in (_golf, _water, _road, _barrier, _standing, _plants):
        found = reader(tags)
        if found is not None:
            return found
    noun = _noun(tags)
    return NotTaken(what=noun, why="it is no area of the course and no condition") if noun else None


def _noun(tags: Mapping[str, str]) -> str:
    """A plain noun for a thing."""
    key = next((key for key in _KEYS if key in tags), None)
    if key is None:
        return ""
    value = tags[key].replace("_", " ")
    return key.replace("_", " ") if value in {"yes", "no", ""} else value


def _golf(tags: Mapping[str, str]) -> Meaning | NotTaken | None:
    value = tags.get("golf")
    if value is None:
        return None
    if value in _GOLF:
        return _GOLF[value]
    return NotTaken(what=value.replace("_", " "), why=_GOLF_NOT.get(value, "nothing on the course is known by this word"))


def _water(tags: Mapping[str, str]) -> Meaning | None:
    is_water = tags.get("natural") in {"water", "wetland"} or tags.get("landuse") in {"reservoir", "basin"} or "water" in tags
    if is_water or tags.get("waterway") in {"riverbank", "dock"}:
        noun = (tags.get("water") or ("wetland" if tags.get("natural") == "wetland" else "pond")).replace("_", " ")
        return Meaning(kind=FeatureKind.PENALTY_AREA, what=noun if noun not in {"yes", "no"} else "pond")
    line = "ditch" if tags.get("barrier") == "ditch" else tags.get("waterway", "")
    width_m = _WATERWAYS.get(line)
    return None if width_m is None else Meaning(kind=FeatureKind.PENALTY_AREA, what=line, width_m=width_m)


def _road(tags: Mapping[str, str]) -> Meaning | NotTaken | None:
    known = _ROADS.get(tags.get("highway", "").removesuffix("_link"))
    if known is None:
        return None
    what, width_m = known
    surface = tags.get("surface", "")
    if surface in _EARTH:
        return NotTaken(what=f"{what} of {surface.replace('_', ' ')}", why="a way without an artificial surface is no obstruction")
    is_sure = surface in _ARTIFICIAL or what == "road"
    return Meaning(kind=FeatureKind.IMMOVABLE_OBSTRUCTION, what=what, width_m=width_m, surface_unknown=not is_sure)


def _barrier(tags: Mapping[str, str]) -> Meaning | None:
    value = tags.get("barrier", "")
    if value == "hedge":
        return _HEDGE
    if value not in _BARRIERS:
        return None
    what = "fence" if value in {"fence", "guard_rail"} else "wall"
    return Meaning(kind=FeatureKind.IMMOVABLE_OBSTRUCTION, what=what, width_m=_BARRIERS[value])


def _standing(tags: Mapping[str, str]) -> Meaning | None:
    if tags.get("building", "no") != "no" or tags.get("amenity") == "shelter":
        return Meaning(kind=FeatureKind.IMMOVABLE_OBSTRUCTION, what="building")
    if tags.get("man_made") == "bridge":
        return Meaning(kind=FeatureKind.IMMOVABLE_OBSTRUCTION, what="bridge")
    return None


def _plants(tags: Mapping[str, str]) -> Meaning | None:
    if tags.get("natural") == "tree_row":
        return Meaning(kind=FeatureKind.TREES, what="row of trees", width_m=4.0)
    if tags.get("natural") == "tree":
        return Meaning(kind=FeatureKind.TREES, what="tree", width_m=2 * TREE_RADIUS_M)
    noun = _TREES.get(tags.get("natural", "")) or _TREES.get(tags.get("landuse", ""))
    return None if noun is None else Meaning(kind=FeatureKind.TREES, what=noun)


def width_of(tags: Mapping[str, str]) -> tuple[float | None, str]:
    """The width that a thing states, metres, and a remark where it states one that cannot be read.

    Returns:
        The width or None, and the remark or an empty text.
    """
    for key in ("width", "est_width", "diameter_crown"):
        text = tags.get(key)
        if text is None:
            continue
        width_m = metres_of(text)
        if width_m is not None and 0 < width_m <= _WIDEST_M:
            return width_m, ""
        return None, f"{key} {text!r} cannot be read as metres or feet"
    return None, ""


def metres_of(text: str) -> float | None:
    """A length such as ``2``, ``2.5 m``, ``2,5``, ``8 ft`` or ``6'6"`` in metres; None where it cannot be read."""
    metres = _METRES.fullmatch(text)
    if metres is not None:
        return float(metres[1].replace(",", "."))
    feet = _FEET.fullmatch(text)
    if feet is None:
        return None
    inches = float(feet[2].replace(",", ".")) if feet[2] else 0.0
    return float(feet[1].replace(",", ".")) * FOOT_M + inches * INCH_M
