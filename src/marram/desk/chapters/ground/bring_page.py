"""The page that brings a file in: a map, a course file, GeoJSON from elsewhere, or what is added to the course at hand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from marram.core.errors import DataError, MarramError
from marram.core.terms import FeatureKind
from marram.desk.chapters.ground import LARGEST_FILE_BYTES
from marram.desk.chapters.ground.opened_ground import KNOWN, PAGE_LINKS
from marram.desk.pages.case_address import Address
from marram.desk.pages.page import NOT_AS_STATED, WELL, Desk, Page, fill
from marram.desk.pages.posted import Posted
from marram.desk.pages.shared_parts import head
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.former_files import change_text
from marram.office.at_desk.keep_in_folder import free_name, kept_text
from marram.office.courses.bring_course import bring_course
from marram.office.courses.survey_course import SourceKind, SurveyOptions
from marram.office.courses.write_ground import course_text

if TYPE_CHECKING:
    from marram.course.course import Course
    from marram.interchange.courses.imported import Imported

NEW = "course"
SOURCES = (NEW, SourceKind.TEES.value, SourceKind.HOLE_LOCATIONS.value, SourceKind.WALK.value)
"""What a file brings: a course of its own, or something that is added to the course at hand."""
FIELDS = ("source", "name", "outline", "sigma", "lines", "properties", "values", "feature", "id", "mark")
_ENDINGS = {NEW: ".osm,.gz,.bz2,.pbf,.geojson,.json", SourceKind.WALK.value: ".gpx,.csv"}
_TABLES = ".csv,.tsv,.txt,.xlsx"


def bring_page(desk: Desk, address: Address, problem: MarramError | None = None, typed: Mapping[str, str] | None = None) -> Page:
    """The form that takes a file.

    Args:
        desk: What pages are made with.
        address: What is stated.
        problem: What went wrong with the file that was just sent; None where nothing did.
        typed: What stands in the form.
    """
    names = desk.folder.names(Holding.COURSE)
    onto = address.first("course") if address.first("course") in names else ""
    stated = dict.fromkeys(FIELDS, "") | {"source": address.first("source") or NEW} | dict(typed or {})
    if stated["source"] not in SOURCES or (stated["source"] != NEW and not onto):
        stated["source"] = NEW
    return fill(
        "ground/bring.html",
        address if onto else address.put(course=""),
        WELL if problem is None else NOT_AS_STATED,
        head=head(desk, address),
        chapter="ground",
        path="/ground/bring",
        page="bring",
        pages=PAGE_LINKS if names else {},
        problem=problem,
        onto=onto,
        was=kept_text(desk.folder, Holding.COURSE, onto).stamp if onto else "",
        typed=stated,
        sources=SOURCES if onto else (NEW,),
        endings={source: _ENDINGS.get(source, _TABLES) for source in SOURCES},
        kinds=tuple(kind.value for kind in FeatureKind),
        largest_mb=LARGEST_FILE_BYTES // 1024 // 1024,
        courses=names,
    )


def bring_in(desk: Desk, posted: Posted) -> Page:
    """Bring a file in, and show the faults of the course."""
    address = posted.address(known=[name for name in KNOWN if name != "source"])
    typed = {name: posted.first(name) for name in FIELDS}
    try:
        file = posted.file("file")
        if len(file.data) > LARGEST_FILE_BYTES:
            raise _too_large(file.name, len(file.data))
        is_new = typed["source"] in {"", NEW}
        onto = None if is_new else desk.room.survey(desk.folder.file(Holding.COURSE, address.first("course")))
        made = bring_course(file.name, file.data, _options(typed, onto))
        name = free_name(desk.folder, Holding.COURSE, made.course.name) if is_new else address.first("course")
        was = "" if is_new else posted.first("was")
        change_text(desk.folder, Holding.COURSE, name, course_text(made.course), was=was, told=_told(file.name, made))
    except MarramError as problem:
        return bring_page(desk, address, problem, typed)
    kept = address.put(day="", hole="") if is_new else address
    return Page(goes_to=kept.put(course=name).link("/ground"))


def _too_large(name: str, size: int) -> DataError:
    most = LARGEST_FILE_BYTES // 1024 // 1024
    hint = "Cut a larger map to one course, or read it on the command line."
    return DataError(f"The file holds {size / 1024 / 1024:.0f} MB; one that is brought in here may hold {most} MB.", where=name, hint=hint)


def _options(typed: Mapping[str, str], onto: Course | None) -> SurveyOptions:
    told = {name: value.strip() for name, value in typed.items()}
    if onto is not None:
        is_walk = told["source"] == SourceKind.WALK.value
        walk = {"feature": told["feature"], "id": told["id"], "marks": (told["mark"],) if told["mark"] else ()} if is_walk else {}
        return SurveyOptions(onto=onto, kind=SourceKind(told["source"]), sigma_m=_sigma(told), **walk)  # type: ignore[arg-type]
    return SurveyOptions(
        name=told["name"],
        outline=told["outline"],
        sigma_m=_sigma(told),
        draws_lines=bool(told["lines"]),
        properties=_pairs(told["properties"]),
        values=_pairs(told["values"]),
    )


def _pairs(text: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in text.splitlines() if line.strip())


def _sigma(told: Mapping[str, str]) -> float | None:
    if not told["sigma"]:
        return None
    try:
        sigma_m = float(told["sigma"].replace(",", "."))
    except ValueError:
        sigma_m = -1.0
    if not 0 <= sigma_m <= 100:
        raise DataError(
            f"{told['sigma'][:60]!r} is no accuracy.", where="accuracy", hint="Give metres from 0 to 100: one standard deviation."
        )
    return sigma_m


def _told(file: str, made: Imported) -> str:
    course = made.course
    return " ".join([f"{file[-80:]} read: {len(course.features)} features, {len(course.holes)} holes.", *made.remarks])
