"""Write an incident as a TOML file that is read back unchanged."""

from __future__ import annotations

import json
from collections.abc import Iterator

import shapely
from shapely.geometry import Point

from marram.core.errors import IncidentError
from marram.course.features import Feature
from marram.course.frame import Position
from marram.rulings.case.incident import Incident, PreviousStroke

_ROUND_M = 0.001


def incident_toml(incident: Incident, *, title: str) -> str:
    """The file of an incident; places stand in metres of the course frame, to the millimetre.

    Args:
        incident: What happened.
        title: What to call it.

    Raises:
        IncidentError: It carries a flight, or a thing met today that is no disc: neither is written.
    """
    if incident.flight is not None:
        raise IncidentError("A flight cannot be written to a file.", where="facts.flight")
    return "\n".join(_lines(incident, title)) + "\n"


def _lines(incident: Incident, title: str) -> Iterator[str]:
    yield f"title = {_text(' '.join(title.split()))}"
    yield f"hole = {incident.hole}"
    yield f"situation = {_text(incident.situation)}"
    yield f"form = {_text(incident.form.value)}"
    yield f"ball = {'{ lost = true }' if incident.ball is None else _place(incident.ball)}"
    yield from _table("player", _player(incident))
    yield from _table("facts", _facts(incident))
    yield from _table("choice", _choice(incident))
    for met in incident.conditions:
        yield from ("", "[[conditions]]", *_condition(met))


def _table(name: str, entries: Iterator[str]) -> Iterator[str]:
    lines = list(entries)
    if lines:
        yield from ("", f"[{name}]", *lines)


def _player(incident: Incident) -> Iterator[str]:
    player = incident.player
    if player.hand is not None:
        yield f"hand = {_text(player.hand.value)}"
    if player.longest_club_in is not None:
        yield f"longest_club_in = {player.longest_club_in!r}"
    if player.putter_in is not None:
        yield f"putter_in = {player.putter_in!r}"
    if player.club is not None:
        yield f"club = {_text(player.club.value)}"


def _facts(incident: Incident) -> Iterator[str]:
    for name, place in (
        ("crossed_at", incident.crossed_at),
        ("other_crossed_at", incident.other_crossed_at),
        ("estimated_at", incident.estimated_at),
        ("played_from", incident.played_from),
        ("first_touch", incident.first_touch),
    ):
        if place is not None:
            yield f"{name} = {_place(place)}"
    if incident.crossed_mark is not None:
        yield f"crossed_mark = {_text(incident.crossed_mark.value)}"
    for name, stroke in (("previous_stroke", incident.previous_stroke), ("last_stroke_outside", incident.last_stroke_outside)):
        if stroke is not None:
            yield f"{name} = {_stroke(stroke)}"
    for fact, value in sorted(incident.facts.items()):
        yield f"{fact} = {'true' if value else 'false'}"


def _choice(incident: Incident) -> Iterator[str]:
    if incident.choice.back_m is not None:
        yield f"back_m = {incident.choice.back_m!r}"
    if incident.choice.reference is not None:
        yield f"reference = {incident.choice.reference}"


def _condition(met: Feature) -> Iterator[str]:
    """A thing met today; its outline is a disc."""
    middle = met.geometry.centroid
    reaches_m = [middle.distance(Point(xy)) for xy in shapely.get_coordinates(met.geometry)]
    if max(reaches_m) - min(reaches_m) > _ROUND_M:
        raise IncidentError("A thing met today that is no disc cannot be written to a file.", where="conditions")
    yield f"kind = {_text(met.condition)}"
    yield from (f"x_m = {middle.x:.3f}", f"y_m = {middle.y:.3f}", f"radius_m = {max(reaches_m):.3f}")
    if met.what:
        yield f"what = {_text(met.what)}"
    if met.sigma_m is not None:
        yield f"sigma_m = {met.sigma_m!r}"


def _stroke(stroke: PreviousStroke) -> str:
    parts = [] if stroke.at is None else [_coordinates(stroke.at)]
    parts += [] if stroke.area is None else [f"area = {_text(stroke.area.value)}"]
    return f"{{ {', '.join(parts)} }}"


def _place(place: Position) -> str:
    return f"{{ {_coordinates(place)} }}"


def _coordinates(place: Position) -> str:
    return f"x_m = {place.x_m:.3f}, y_m = {place.y_m:.3f}"


def _text(words: str) -> str:
    """A TOML basic string; JSON escapes are the same, but for a character that only TOML bars."""
    return json.dumps(words, ensure_ascii=False).replace("\x7f", "\\u007f")
