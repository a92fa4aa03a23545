"""Surveyed features: what the map or the day's conditions put on the ground."""

from __future__ import annotations

from dataclasses import dataclass, field

from shapely.geometry import LineString, MultiPolygon, Point, Polygon

from marram.core.terms import FeatureKind, Mark

_STANDING_KINDS = frozenset({FeatureKind.BOUNDARY_OBJECT, FeatureKind.YOUNG_TREE, FeatureKind.TEMPORARY_IMMOVABLE_OBSTRUCTION})
_STANDING_NOUNS = frozenset(
    {
        "bench",
        "bin",
        "bridge",
        "building",
        "clubhouse",
        "fence",
        "gate",
        "hedge",
        "house",
        "hut",
        "hydrant",
        "pole",
        "post",
        "pylon",
        "railing",
        "shed",
        "shelter",
        "sign",
        "stand",
        "tent",
        "wall",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """One surveyed thing.

    Attributes:
        id: Unique name within the course.
        kind: What it is.
        geometry: Its outline, line or point in the course frame, metres.
        holes: Numbers of the holes that it serves.
        mark: How a penalty area is marked.
        what: A plain noun for it.
        serves: Name of the penalty area or thing that a dropping zone is given for; empty where it serves any.
        stands: Whether it rises above the ground, so that a club's shaft meets it; None where its noun says so.
        sigma_m: Survey accuracy, one standard deviation, metres; None where unknown.
        par: Par of the hole, on a line of play.
        stroke_index: Stroke index of the hole, on a line of play.
        proposed: The mark that the source suggests where nobody has decided one yet; None where it suggests none.
        assumed: What was assumed and not surveyed, as pairs of a name (width, place, outline) and words that say what.
        repaired: How an outline that was not sound was mended; empty where it was sound.
        is_surveyed: False for things stated for one incident only.
        named: What a trial calls the kind of an other condition; empty for every other feature.
        properties: All properties as they stood in the file, for writing back, as JSON text.
    """

    id: str
    kind: FeatureKind
    geometry: Polygon | MultiPolygon | LineString | Point
    holes: tuple[int, ...] = ()
    mark: Mark | None = None
    what: str = ""
    serves: str = ""
    stands: bool | None = None
    sigma_m: float | None = None
    par: int | None = None
    stroke_index: int | None = None
    proposed: Mark | None = None
    assumed: tuple[tuple[str, str], ...] = ()
    repaired: str = ""
    is_surveyed: bool = True
    named: str = ""
    properties: str = field(default="{}", repr=False)

    @property
    def is_standing(self) -> bool:
        """Whether it rises above the ground, as a fence does and a path does not."""
        if self.stands is not None:
            return self.stands
        return self.kind in _STANDING_KINDS or not _STANDING_NOUNS.isdisjoint(self.what.lower().split())

    @property
    def noun(self) -> str:
        """What to call it in a sentence."""
        return self.what or self.condition.replace("-", " ")

    @property
    def condition(self) -> str:
        """The kind as a situation names it: that of the Rules, or a trial's own."""
        return self.named or self.kind.value
