"""Which teeing area belongs to which set of tee-markers, and how long the hole is from it by the survey."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

from marram.course.features import Feature
from marram.course.holes import Hole
from marram.course.written_features import with_properties
from marram.interchange.tables.tables import plain

_DIFFERS_M = 5.0
_FARTHEST_M = 25.0
"""A teeing area without a name is taken for a set of tee-markers up to this difference in length (our own limit)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TeeLength:
    """The stated length of a hole from a set of tee-markers, metres."""

    tee: str
    length_m: float


def match_tees(hole: Hole, tees: Sequence[Feature], lengths: Sequence[TeeLength]) -> tuple[list[Feature], list[str]]:
    """Name the teeing areas of a hole after the sets of tee-markers and compare their lengths.

    A teeing area that has the set's name is taken; of the others, the one whose length is nearest.

    Args:
        hole: The hole.
        tees: Its teeing areas.
        lengths: Lengths by set.

    Returns:
        The teeing areas with names and both lengths, and what the official should know. The survey's length is taken along the line of
        play from the middle of the teeing area; where the markers stand that day is not known.
    """
    if hole.line is None:
        return [], []
    measured_m = {tee.id: _from_middle_m(hole, tee) for tee in tees}
    taken: dict[str, TeeLength] = {}
    for length in lengths:
        named = next((tee for tee in tees if plain(_name(tee)) == plain(length.tee) and tee.id not in taken), None)
        if named is not None:
            taken[named.id] = length
    unnamed = [tee for tee in tees if not _name(tee)]
    pairs = sorted((abs(measured_m[tee.id] - length.length_m), tee.id, place) for tee in unnamed for place, length in enumerate(lengths))
    for off_m, name, place in pairs:
        length = lengths[place]
        if off_m <= _FARTHEST_M and name not in taken and length not in taken.values():
            taken[name] = length
    named_tees = [_named(tee, taken[tee.id], measured_m[tee.id]) for tee in tees if tee.id in taken]
    return named_tees, _told(hole, lengths, taken, measured_m)


def _told(hole: Hole, lengths: Sequence[TeeLength], taken: dict[str, TeeLength], measured_m: dict[str, float]) -> list[str]:
    told = []
    for name, length in taken.items():
        off_m = measured_m[name] - length.length_m
        if abs(off_m) > _DIFFERS_M:
            told.append(
                f"Hole {hole.number} from {length.tee}: {length.length_m:.0f} m stated, {measured_m[name]:.0f} m measured from the middle "
                f"of {name} along the line of play ({off_m:+.0f} m)."
            )
    missing = [length.tee for length in lengths if length not in taken.values()]
    if missing:
        told.append(f"Hole {hole.number}: no teeing area of the survey was found for {', '.join(missing)}.")
    return told


def _name(tee: Feature) -> str:
    named = json.loads(tee.properties).get("tee")
    return named if isinstance(named, str) else ""


def _from_middle_m(hole: Hole, tee: Feature) -> float:
    if hole.line is None:
        return 0.0
    middle = tee.geometry.centroid
    along_m = float(hole.line.project(middle))
    # Behind the start of the line the whole way to it counts; beside the line only the way along it does.
    behind_m = float(hole.line.distance(middle)) if along_m == 0 else 0.0
    return float(hole.line.length) - along_m + behind_m


def _named(tee: Feature, length: TeeLength, measured_m: float) -> Feature:
    return with_properties(tee, {"tee": length.tee, "length_m": round(length.length_m, 2), "measured_m": round(measured_m, 2)})
