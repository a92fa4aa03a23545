"""What is written of a course: its file, the table of its holes, a place on it as an incident; each as the text of a file."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping

from marram.course.course import Course
from marram.office.courses.find_places import PlacesFound, ShownPlace
from marram.office.courses.number_holes import ProposedHoles


def course_text(course: Course) -> str:
    """The file of a course."""
    from marram.interchange.courses.course_geojson import write_course

    return write_course(course)


def hole_table_text(proposed: ProposedHoles) -> str:
    """The table of proposed holes, to be changed and put back."""
    from marram.interchange.courses.hole_table import write_holes

    return write_holes(proposed.proposals, name=proposed.course.name)


def place_text(found: PlacesFound, rank: int, place: ShownPlace) -> str:
    """A place as an incident that can be ruled on.

    Args:
        found: What was found.
        rank: How good the place is, 1 for the best.
        place: The place.
    """
    from marram.interchange.field.incident_writing import incident_toml

    title = f"Place {rank} to show {found.procedure}: hole {place.incident.hole}, {place.spot.feature}"
    return incident_toml(place.incident, title=title)


def place_members(found: PlacesFound, place: ShownPlace) -> Mapping[str, object]:
    """A place as the members of the incident that happens there.

    Args:
        found: What was found.
        place: The place.
    """
    return tomllib.loads(place_text(found, 1, place))
