"""Sheets of tees: length, par and stroke index by hole, course rating and slope rating by set of tee-markers."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind
from marram.core.units import INCH_M
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.written_features import put_in, with_properties
from marram.interchange.courses.imported import Imported
from marram.interchange.courses.tee_match import TeeLength, match_tees
from marram.interchange.tables.table_rows import Faults, RowReader
from marram.interchange.tables.tables import find_table, plain, read_rows, read_table

YARD_M = 36 * INCH_M
_HINT = "See docs/formats/tees.md."
_COLUMNS = {
    "hole": ("no", "number", "hole_no"),
    "tee": ("tees", "set", "tee_set", "markers", "tee_markers"),
    "length_m": ("metres", "meters", "length_metres", "length_meters"),
    "length_yd": ("yards", "yds", "length_yards", "length_yds", "yd"),
    "par": (),
    "stroke_index": ("si", "index"),
    "course_rating": ("rating", "cr"),
    "slope_rating": ("slope", "sr"),
    "gender": ("for", "rated_for"),
}
_NEEDED = (("hole", "tee", "length_m"), ("hole", "tee", "length_yd"))
_RATINGS_NEEDED = (("tee", "course_rating", "slope_rating"),)
_SHORTEST_M, _LONGEST_M = 30.0, 800.0
"""Guards of ours against a wrong unit or a slip of the pen."""
_RATING = (15.0, 90.0)
_SLOPE = (55, 155)
"""Slope ratings run from 55 to 155 (Rules of Handicapping, 2020, Definitions, Slope Rating; from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _TeeRow:
    """One row: a hole from a set of tee-markers."""

    number: int
    hole: int
    tee: str
    length_m: float
    par: int | None
    stroke_index: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rating:
    """Ratings of a set of tee-markers."""

    tee: str
    course_rating: float
    slope_rating: int
    gender: str


def read_tee_sheet(course: Course, path: Path) -> Imported:
    """Put a sheet of tees on a course.

    Args:
        course: The course.
        path: A table with one hole and set of tee-markers a row; ratings stand in the same rows or on a sheet of their own.

    Returns:
        The course; remarks tell lengths that differ from the survey.

    Raises:
        SurveyError: The file cannot be used; the message lists every fault.
    """
    what = "a table of tees"
    ratings_only = find_table(path, _COLUMNS, _NEEDED, what=what, error=SurveyError) is None
    rated, rating_faults = _read_ratings(path)
    if ratings_only and rated:
        rating_faults.refuse()
        return Imported(course=_with_sets(course, [], rated), left_out=(), remarks=("The file holds ratings and no lengths.",))
    table = read_table(path, _COLUMNS, _NEEDED, what=what, error=SurveyError)
    faults = Faults(where=table.where, error=SurveyError, hint=_HINT)
    _refuse_other_units(table.not_read, faults)
    rows: list[_TeeRow] = []
    read_rows(table, faults, lambda row: rows.extend(_tee_row(row, course)))
    _find_contradictions(rows, faults)
    faults.told += rating_faults.told
    faults.refuse()
    if not rows:
        raise SurveyError("The table holds no hole.", where=table.where, hint=_HINT)
    remarks = [f"Columns not read: {', '.join(table.not_read)}."] if table.not_read else []
    return _placed(course, rows, rated, remarks)


def _placed(course: Course, rows: Sequence[_TeeRow], rated: Sequence[_Rating], remarks: list[str]) -> Imported:
    changed = course
    for number in sorted({row.hole for row in rows}):
        mine = sorted((row for row in rows if row.hole == number), key=lambda row: -row.length_m)
        changed, told = _with_line(changed, number, mine)
        remarks += told
        lengths = [TeeLength(tee=row.tee, length_m=row.length_m) for row in mine]
        tees, told = match_tees(changed.hole(number), _tees_of(changed, number), lengths)
        remarks += told
        for tee in tees:
            changed = put_in(changed, tee)
    sets = list(dict.fromkeys(row.tee for row in rows))
    unknown = [rating.tee for rating in rated if plain(rating.tee) not in {plain(name) for name in sets}]
    if unknown:
        remarks.append(f"Rated and without lengths in the sheet: {', '.join(dict.fromkeys(unknown))}.")
    return Imported(course=_with_sets(changed, rows, rated), left_out=(), remarks=tuple(remarks))


def _tees_of(course: Course, number: int) -> list[Feature]:
    return [feature for feature in course.of_kind(FeatureKind.TEEING_AREA) if number in feature.holes]


def _refuse_other_units(not_read: Sequence[str], faults: Faults) -> None:
    for heading in not_read:
        words = plain(heading).split("_")
        if words[0] in {"length", "distance", "yardage"} or words[-1] in {"ft", "feet", "km", "miles"}:
            faults.add(f"column {heading}", "a length in a unit that is not known; head it length_m or length_yd")


def _tee_row(row: RowReader, course: Course) -> list[_TeeRow]:
    before = len(row.faults.told)
    hole = row.whole("hole", least=1, most=99)
    tee = row.text("tee")
    length_m = row.number("length_m", least=_SHORTEST_M, most=_LONGEST_M, unit="m")
    length_yd = row.number("length_yd", least=_SHORTEST_M / YARD_M, most=_LONGEST_M / YARD_M, unit="yd")
    par, stroke_index = row.whole("par", least=3, most=6), row.whole("stroke_index", least=1, most=36)
    is_sound = len(row.faults.told) == before
    if hole is None and is_sound:
        row.fault("hole", "the number of the hole is missing")
    elif hole is not None and hole not in course.holes:
        row.fault("hole", f"there is no hole {hole} on {course.name}; it has {', '.join(map(str, course.holes)) or 'none'}")
    if not tee:
        row.fault("tee", "the name of the set of tee-markers is missing")
    if length_m is None and length_yd is None and is_sound:
        row.fault("length", "the length is missing")
    if length_m is not None and length_yd is not None and abs(length_m - length_yd * YARD_M) > 1.0:
        row.fault("length", f"{length_m:g} m and {length_yd:g} yd ({length_yd * YARD_M:.1f} m) are not one length")
    length = length_m if length_m is not None else (length_yd or 0.0) * YARD_M
    if len(row.faults.told) > before or hole is None:
        return []
    return [_TeeRow(number=row.row.number, hole=hole, tee=tee, length_m=length, par=par, stroke_index=stroke_index)]


def _find_contradictions(rows: Sequence[_TeeRow], faults: Faults) -> None:
    seen: dict[tuple[int, str], int] = {}
    of_index: dict[tuple[str, int], _TeeRow] = {}
    for row in rows:
        key = (row.hole, plain(row.tee))
        if key in seen:
            faults.add(f"row {row.number}", f"hole {row.hole} from {row.tee} stands in row {seen[key]} as well")
        seen.setdefault(key, row.number)
        if row.stroke_index is not None:
            other = of_index.setdefault((plain(row.tee), row.stroke_index), row)
            if other.hole != row.hole:
                faults.add(
                    f"row {row.number}", f"stroke index {row.stroke_index} is that of hole {other.hole} in row {other.number} as well"
                )


def _with_line(course: Course, number: int, rows: Sequence[_TeeRow]) -> tuple[Course, list[str]]:
    """The course with par and stroke index on the line of play: those of the longest set that states them."""
    line = next((feature for feature in course.of_kind(FeatureKind.LINE_OF_PLAY) if number in feature.holes), None)
    par = next((row.par for row in rows if row.par is not None), None)
    stroke_index = next((row.stroke_index for row in rows if row.stroke_index is not None), None)
    told = []
    for name, values in (("par", [row.par for row in rows]), ("stroke index", [row.stroke_index for row in rows])):
        if len({value for value in values if value is not None}) > 1:
            told.append(
                f"Hole {number}: the {name} differs by set of tee-markers; the line of play has that of {rows[0].tee}, the longest."
            )
    if line is None:
        return course, [*told, f"Hole {number} has no line of play, so par and stroke index are kept with the sets of tee-markers only."]
    more = {name: value for name, value in (("par", par), ("stroke_index", stroke_index)) if value is not None}
    changed = replace(line, par=par or line.par, stroke_index=stroke_index or line.stroke_index)
    return put_in(course, with_properties(changed, more)), told


def _read_ratings(path: Path) -> tuple[list[_Rating], Faults]:
    """Ratings by set of tee-markers, each set and gender once, and what is wrong with them."""
    table = find_table(path, _COLUMNS, _RATINGS_NEEDED, what="a table of tees", error=SurveyError)
    faults = Faults(where=path.name if table is None else table.where, error=SurveyError, hint=_HINT)
    if table is None:
        return [], faults
    found: dict[tuple[str, str], _Rating] = {}

    def read(row: RowReader) -> None:
        rating = row.number("course_rating", least=_RATING[0], most=_RATING[1])
        slope = row.whole("slope_rating", least=_SLOPE[0], most=_SLOPE[1])
        if rating is None or slope is None or not row.text("tee"):
            return
        entry = _Rating(tee=row.text("tee"), course_rating=rating, slope_rating=slope, gender=row.text("gender"))
        if found.setdefault((plain(entry.tee), plain(entry.gender)), entry) != entry:
            row.fault("course_rating", f"{entry.tee} has other ratings in an earlier row")

    read_rows(table, faults, read)
    return list(found.values()), faults


def _with_sets(course: Course, rows: Sequence[_TeeRow], rated: Sequence[_Rating]) -> Course:
    """The course with its sets of tee-markers in the member ``course`` of the file."""
    extra = json.loads(course.extra)
    head = extra.get("course", {})
    old = {plain(str(entry.get("tee"))): entry for entry in head.get("tees", []) if isinstance(entry, dict)}
    sets: list[dict[str, object]] = []
    names: dict[str, str] = {}
    for tee in (*(row.tee for row in rows), *(rating.tee for rating in rated)):
        names.setdefault(plain(tee), tee)
    for name in names.values():
        mine = [row for row in rows if plain(row.tee) == plain(name)]
        ratings = [rating for rating in rated if plain(rating.tee) == plain(name)]
        kept = old.pop(plain(name), {})
        told = kept | _lengths_object(name, mine)
        sets += [told | _rating_object(rating) for rating in ratings] or [told]
    extra["course"] = head | {"tees": [*sets, *old.values()]}
    return replace(course, extra=json.dumps(extra, sort_keys=True))


def _lengths_object(name: str, rows: Sequence[_TeeRow]) -> dict[str, object]:
    told: dict[str, dict[str, float | int]] = {
        "lengths_m": {str(row.hole): round(row.length_m, 2) for row in rows},
        "pars": {str(row.hole): row.par for row in rows if row.par is not None},
        "stroke_indexes": {str(row.hole): row.stroke_index for row in rows if row.stroke_index is not None},
    }
    return {"tee": name} | {member: values for member, values in told.items() if values}


def _rating_object(rating: _Rating) -> dict[str, object]:
    told: dict[str, object] = {"course_rating": rating.course_rating, "slope_rating": rating.slope_rating}
    return told | ({"gender": rating.gender} if rating.gender else {})
