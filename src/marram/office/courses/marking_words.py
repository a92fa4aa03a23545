"""What is wrong at a place of the marking, and what would put it right, in words."""

from __future__ import annotations

from collections.abc import Mapping

from marram.relief.marking.edges import FAULTS, MarkingFault
from marram.relief.marking.places import EdgeSum, MarkingPlace

_WORDS = {
    MarkingFault.NOWHERE: "nowhere to drop",
    MarkingFault.ONLY_IN_PENALTY_AREA: "next to nothing but another penalty area",
    MarkingFault.ONLY_IN_BUNKER: "next to nothing but a bunker",
    MarkingFault.NO_PLAY_ZONE: "most of the ground is in a no play zone",
    MarkingFault.SMALL: "small",
    MarkingFault.OUT_OF_BOUNDS: "most of the ground is out of bounds",
}
_REMEDIES = {
    MarkingFault.NOWHERE: "Straighten the edge here, or give a dropping zone.",
    MarkingFault.ONLY_IN_PENALTY_AREA: "Mark both as one penalty area, or give a dropping zone.",
    MarkingFault.ONLY_IN_BUNKER: "Give a dropping zone, or let the edge take in the bunker.",
    MarkingFault.NO_PLAY_ZONE: "Draw the zone or the edge back, or give a dropping zone.",
    MarkingFault.SMALL: "Look at it on the ground.",
    MarkingFault.OUT_OF_BOUNDS: "Draw the edge back from the boundary, or give a dropping zone.",
}


def fault_words(place: MarkingPlace) -> str:
    """What is wrong at a place."""
    return _WORDS[place.fault]


def remedy_of(place: MarkingPlace) -> str:
    """What would put a place right."""
    return _REMEDIES[place.fault]


def fault_counts(edge: EdgeSum) -> Mapping[str, int]:
    """How many crossing points of an edge have which fault, the worst fault first."""
    return {fault.value: edge.faults[fault] for fault in FAULTS}
