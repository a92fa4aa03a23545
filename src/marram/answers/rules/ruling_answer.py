"""Answers as JSON objects: sorted keys, units in names, places as longitude and latitude with metres beside."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from marram.core.citations import Citation
from marram.core.errors import FactsNeeded, MarramError
from marram.core.terms import Area

if TYPE_CHECKING:  # what rules on ground is loaded only where there is some
    from marram.course.frame import Frame, Position
    from marram.relief.area.area import ReliefArea
    from marram.relief.area.lines import LineBack
    from marram.rulings.case.met import Interference
    from marram.rulings.case.ruling import Doubt, Further, Option, Reference, RightPlace, Ruling

_MOST_NAMED = 20
"""Of a condition that is made of more things only the nearest is named: paths of a whole course may hang together."""


def error_object(error: MarramError) -> dict[str, object]:
    """An error as outsiders read it."""
    told: dict[str, object] = {
        "code": error.code,
        "message": error.message,
        "where": error.where,
        "hint": error.hint,
    }
    if error.citations:
        told["citations"] = [citation_object(citation) for citation in error.citations]
    if isinstance(error, FactsNeeded):
        told["facts_needed"] = [{"fact": fact, "question": asked} for fact, asked in error.questions]
    return {"error": told}


def citation_object(citation: Citation) -> dict[str, object]:
    """A citation with its provenance."""
    return {
        "document": citation.document,
        "edition": citation.edition,
        "rule": citation.rule,
        "rule_number_inferred": citation.is_number_inferred,
        "overlay": citation.overlay,
        "seen": citation.seen,
        "unsure": citation.is_unsure,
        "provenance": citation.provenance,
        "known": citation.known,
    }


def _citations(citations: Sequence[Citation]) -> list[dict[str, object]]:
    return [citation_object(citation) for citation in citations]


def position_object(frame: Frame, position: Position) -> dict[str, object]:
    """A place in degrees and metres."""
    lon_deg, lat_deg = frame.to_lonlat(position)
    return {
        "at": [round(lon_deg, 9), round(lat_deg, 9)],
        "x_m": round(position.x_m, 3),
        "y_m": round(position.y_m, 3),
    }


def ruling_object(ruling: Ruling, frame: Frame) -> dict[str, object]:
    """A ruling as outsiders read it."""
    return {
        "book": ruling.book,
        "title": ruling.title,
        "stamp": ruling.stamp,
        "options": [_option_object(option, frame, ruling.area_words) for option in ruling.options],
        "not_available": [
            {
                "procedure": entry.procedure,
                "title": entry.title,
                "because": entry.because,
                "citations": _citations(entry.citations),
            }
            for entry in ruling.not_available
        ],
        "facts_needed": [
            {"fact": entry.fact, "question": entry.question, "answers": list(entry.answers), "opens": list(entry.opens)}
            for entry in ruling.facts_needed
        ],
        "lines": [{"text": line.text, "status": line.status.value, "citations": _citations(line.citations)} for line in ruling.lines],
        "cautions": [{"text": caution.text, "citations": _citations(caution.citations)} for caution in ruling.cautions],
    }


def _option_object(option: Option, frame: Frame, area_words: Mapping[Area, str]) -> dict[str, object]:
    return {
        "procedure": option.procedure,
        "carried_out_as": option.carried_out_as or option.procedure,
        "title": option.title,
        "interference": None if option.met is None else _interference_object(option.met),
        "further_interference": [_further_object(further, frame) for further in option.further],
        "mandatory": option.is_mandatory,
        "penalty_strokes": option.penalty_strokes,
        "ball": {"put": option.put, "which": option.which},
        "references": [_reference_object(reference, frame) for reference in option.references],
        "relief_area": None if option.relief_area is None else _area_object(option.relief_area, frame, area_words),
        "no_nearer_the_hole_than_m": _rounded(option.no_nearer_m),
        "size_m": _rounded(option.size_m, 4),
        "size": option.size_words,
        "line": None if option.line is None else _line_object(option.line, option.doubt, frame),
        "other_estimate": None if option.doubt is None else _estimate_object(option.doubt, frame, area_words),
        "roll_m": _rounded(option.roll_m),
        "steps": list(option.steps),
        "margin_m": _rounded(option.margin_m),
        "accuracy_m": _rounded(option.accuracy_m),
        "measure_on_ground": option.must_measure_on_ground,
        "crossing_moved_m": _rounded(option.crossing_moved_m),
        "waiting_for": list(option.waiting_for),
        "played_from_right_place": None if option.right_place is None else option.right_place.is_right,
        "played_from": None if option.right_place is None else _right_place_object(option.right_place),
        "citations": _citations(option.citations),
    }


def _interference_object(met: Interference) -> dict[str, object]:
    return {
        "condition": met.condition.noun,
        "features": sorted(met.joined.names) if len(met.joined.names) <= _MOST_NAMED else [met.condition.id],
        "joined": len(met.joined.names),
        "depth_m": _rounded(met.depth_m),
        "parts": sorted(met.parts),
    }


def _further_object(further: Further, frame: Frame) -> dict[str, object]:
    return {
        "situation": further.situation,
        "condition": further.noun,
        "features": list(further.features),
        "interference": None if further.interference is None else _interference_object(further.interference),
        "area_on_it_m2": _rounded(further.on_area_m2, 4),
        "next_points": [_reference_object(point, frame) for point in further.points],
        "back_in_the_first": further.is_back,
        "citations": _citations(further.citations),
    }


def _right_place_object(place: RightPlace) -> dict[str, object]:
    return {
        "right_place": place.is_right,
        "distance_m": _rounded(place.distance_m),
        "margin_m": _rounded(place.margin_m),
        "accuracy_m": _rounded(place.accuracy_m),
        "measure_on_ground": place.must_measure_on_ground,
        "because": place.because,
        "asks": [{"fact": place.asks, "question": place.question}] if place.asks else [],
        "citations": _citations(place.citations),
    }


def _reference_object(reference: Reference, frame: Frame) -> dict[str, object]:
    return position_object(frame, reference.position) | {
        "kind": reference.kind,
        "distance_m": _rounded(reference.distance_m),
        "clearance_m": _rounded(reference.clearance_m),
        "range_m": _rounded(reference.range_m),
    }


def _area_object(area: ReliefArea, frame: Frame, area_words: Mapping[Area, str]) -> dict[str, object]:
    from shapely import orient_polygons
    from shapely.geometry import mapping

    from marram.interchange.courses.course_geojson import to_degrees

    outline = orient_polygons(area.outline())
    return {
        "area_m2": round(area.area_m2, 4),
        "geometry": to_degrees(frame, outline),
        "geometry_m": json.loads(json.dumps(mapping(outline))),
        "parts": [
            {
                "area": part.area.value,
                "area_m2": round(part.area_m2, 4),
                "area_words": area_words[part.area],
            }
            for part in area.parts
        ],
    }


def _line_object(line: LineBack, doubt: Doubt | None, frame: Frame) -> dict[str, object]:
    return {
        "from": position_object(frame, line.start),
        "bearing_deg": round(line.bearing_deg, 4),
        "intervals_m": [[round(near_m, 3), round(far_m, 3)] for near_m, far_m in line.intervals_m],
        "fan": [
            {"back_m": round(back_m, 3), "half_width_m": round(half_m, 3)} for back_m, half_m in (() if doubt is None else doubt.fan_m)
        ],
    }


def _estimate_object(doubt: Doubt, frame: Frame, area_words: Mapping[Area, str]) -> dict[str, object] | None:
    from shapely import orient_polygons

    from marram.interchange.courses.course_geojson import to_degrees

    if doubt.other_reference is None:
        return None
    return {
        "reference": position_object(frame, doubt.other_reference),
        "relief_area": None if doubt.other_area is None else _area_object(doubt.other_area, frame, area_words),
        "overlap_m2": _rounded(doubt.overlap_m2, 4),
        "overlap": None if doubt.overlap is None else to_degrees(frame, orient_polygons(doubt.overlap)),
    }


def _rounded(value: float | None, digits: int = 3) -> float | None:
    return None if value is None else round(value, digits)
