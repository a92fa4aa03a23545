"""Bring in a file that came as bytes, as `survey_course` brings one in that lies in a folder."""

from __future__ import annotations

import json
import tempfile
from dataclasses import replace
from pathlib import Path

from marram.core.errors import SurveyError
from marram.course.course import Course
from marram.interchange.courses.course_geojson import parse_course
from marram.interchange.courses.imported import Imported
from marram.interchange.tables.reading import LARGEST_COURSE_BYTES, read_text
from marram.office.courses.survey_course import SourceKind, SurveyOptions, survey_course

_LONGEST_NAME = 100
_ENDINGS = (".geojson", ".json")


def bring_course(name: str, data: bytes, options: SurveyOptions) -> Imported:
    """Bring in a map, a course file, or what is added to a course.

    Args:
        name: What the file calls itself: its ending tells what it is, and errors name it; no place is made of it.
        data: Its bytes.
        options: What the official states.

    Raises:
        SurveyError: The file cannot be used, or an option does not fit it.
    """
    plain = _plain(name)
    with tempfile.TemporaryDirectory(prefix="marram-") as folder:
        file = Path(folder) / plain
        file.write_bytes(data)
        if options.kind in {None, SourceKind.GEOJSON} and _is_course_file(file):
            course = parse_course(_read(file), where=plain)
            return Imported(course=_renamed(course, options.name) if options.name else course)
        return survey_course(file, options)


def _plain(name: str) -> str:
    """The name without what would lead elsewhere."""
    last = name.replace("\\", "/").rpartition("/")[2].replace("\0", "").strip()
    if last in {"", ".", ".."}:
        raise SurveyError("The file has no name.", where="file", hint="Give it one whose ending says what it is, such as course.osm.")
    return last[-_LONGEST_NAME:]


def _renamed(course: Course, name: str) -> Course:
    """The course under another name, in its file too."""
    extra = json.loads(course.extra)
    extra["course"]["name"] = name
    return replace(course, name=name, extra=json.dumps(extra, sort_keys=True))


def _read(file: Path) -> str:
    return read_text(file, what="a course", largest_bytes=LARGEST_COURSE_BYTES, error=SurveyError)


def _is_course_file(file: Path) -> bool:
    """Whether it is a course file of ours, told by its head, and not GeoJSON from elsewhere; what cannot be read is told by its reader."""
    if file.suffix.lower() not in _ENDINGS or file.stat().st_size > LARGEST_COURSE_BYTES:
        return False
    try:
        raw = json.loads(file.read_bytes())
    except (ValueError, RecursionError):
        return False
    return isinstance(raw, dict) and isinstance(raw.get("course"), dict) and "origin" in raw["course"]
