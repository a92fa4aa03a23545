"""Points and rings of the day, laid down by numbers as the files of days have them, and used in the ruling."""

from __future__ import annotations

import datetime
import re
import tomllib
from pathlib import Path

import pytest
from shapely.geometry.base import BaseGeometry

from marram.core.errors import SurveyError
from marram.course.course import Course
from marram.course.frame import Position
from marram.course.hole_locations import tell_location
from marram.interchange.courses.course_geojson import read_course
from marram.interchange.field.day_file import parse_day, read_day
from marram.office.at_desk.day_entries import look_at_day, new_day, put_down, take_up
from marram.office.at_desk.typed_entry import typed_entry
from tests.desk.conftest import EXAMPLES
from tests.desk.ground_visits import GroundVisit, folder_with, forms, stated

COURSE = EXAMPLES / "courses" / "thimble-moor.geojson"
DATE = datetime.date(2026, 7, 4)


@pytest.fixture(scope="module")
def moor() -> Course:
    return read_course(COURSE)


def laid(moor: Course, **typed: str) -> str:
    """A day's file with one thing on it."""
    table, members = typed_entry(typed, moor)
    return put_down(new_day(DATE), table, members, moor, where="day")


def test_a_hole_is_cut_so_far_on_and_so_far_in(moor: Course) -> None:
    text = laid(moor, kind="hole-location", hole="9", on="8", side="left", from_edge="9,5", unit="m")
    day = parse_day(text, moor, where="day")
    place = tell_location(moor.hole(9), _at(day.locations[0].geometry))
    assert place is not None
    assert (round(place.on_m, 2), round(place.left_m, 2)) == (8.0, 9.5)
    paced = parse_day(laid(moor, kind="hole-location", hole="9", on="8", side="right", from_edge="9", unit="paces"), moor, where="day")
    place = tell_location(moor.hole(9), _at(paced.locations[0].geometry))
    assert place is not None
    assert (round(place.on_m, 2), round(place.right_m, 2)) == (round(8 * 0.9144, 2), round(9 * 0.9144, 2))  # a pace is a yard


def test_a_ring_lies_where_its_corners_were_put(moor: Course) -> None:
    text = laid(moor, kind="temporary-water", ring="-100 -200\n-90 -200; -90 -190|-100 -190\n")
    ground = parse_day(text, moor, where="day").features[0].geometry
    assert ground.bounds == pytest.approx((-100, -200, -90, -190), abs=0.002)
    assert ground.area == pytest.approx(100, abs=0.05)
    seen = look_at_day(text, moor, where="day").entries[0]
    assert seen.radius_m is None
    assert seen.area_m2 == pytest.approx(100, abs=0.05)


def test_a_disc_lies_along_the_hole_or_where_it_was_touched(moor: Course) -> None:
    along = look_at_day(laid(moor, kind="ground-under-repair", hole="15", before="60", right="-8", radius="2.5"), moor, where="day")
    entry = along.entries[0]
    assert entry.along is not None
    assert (entry.hole, round(entry.along.before_green_m, 1), round(entry.along.right_m, 1)) == (15, 60.0, -8.0)
    assert entry.radius_m == pytest.approx(2.5, abs=0.001)
    assert entry.area_m2 == pytest.approx(3.14159 * 2.5**2, rel=0.001)
    touched = look_at_day(laid(moor, kind="no-play-zone", x="10.25", y="-20.5", radius="3", what="nest"), moor, where="day").entries[0]
    assert touched.at is not None
    assert touched.at.xy == pytest.approx((10.25, -20.5), abs=0.001)
    assert touched.what == "nest"


def test_a_dropping_zone_serves_what_it_is_given_for(moor: Course) -> None:
    day = parse_day(laid(moor, kind="dropping-zone", x="-376", y="80", radius="1.5", serves="pond-7", hole="7"), moor, where="day")
    assert (day.features[0].serves, day.features[0].holes) == ("pond-7", (7,))


def _at(point: BaseGeometry) -> Position:
    return Position(x_m=point.centroid.x, y_m=point.centroid.y)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"kind": "flag"}, "nothing that is laid down"),
        ({"kind": "hole-location", "hole": "9"}, "not stated"),
        ({"kind": "hole-location", "hole": "99", "on": "3", "from_edge": "3", "side": "left", "unit": "m"}, "There is no hole 99"),
        ({"kind": "hole-location", "hole": "9", "on": "90", "from_edge": "3", "side": "left", "unit": "m"}, "no green"),
        ({"kind": "hole-location", "hole": "9", "x": "0", "y": "0"}, "off the green"),
        ({"kind": "hole-location", "hole": "9", "x": "0", "y": "0", "on": "3", "from_edge": "3", "side": "left", "unit": "m"}, "twice"),
        ({"kind": "hole-location", "hole": "9", "on": "3", "from_edge": "3", "side": "up", "unit": "m"}, "the side"),
        ({"kind": "temporary-water", "x": "0", "y": "0"}, "number is missing"),
        ({"kind": "temporary-water", "radius": "3"}, "not stated"),
        ({"kind": "temporary-water", "x": "1", "y": "1", "before": "3", "hole": "9", "radius": "3"}, "twice"),
        ({"kind": "temporary-water", "x": "nan", "y": "1", "radius": "3"}, "is no number"),
        ({"kind": "temporary-water", "x": "90000", "y": "1", "radius": "3"}, "km from the middle"),
        ({"kind": "temporary-water", "ring": "0 0\n1 1"}, "no sound outline"),
        ({"kind": "temporary-water", "ring": "0 0\n1 1 1\n2 2"}, "is no corner"),
        ({"kind": "temporary-water", "ring": "0 0\n10 10\n10 0\n0 10"}, "no sound outline"),
        ({"kind": "dropping-zone", "x": "0", "y": "0", "radius": "2", "serves": "pond-99"}, "nothing called"),
        ({"kind": "temporary-water", "x": "0", "y": "0", "radius": "-2"}, "a number above 0"),
        ({"kind": "temporary-water", "x": "0", "y": "0", "radius": "2", "sigma": "x"}, "is no number"),
    ],
)
def test_what_cannot_lie_there_is_told(moor: Course, typed: dict[str, str], told: str) -> None:
    with pytest.raises(SurveyError) as refused:
        laid(moor, **typed)
    assert told in str(refused.value)


def test_a_hole_is_cut_once(moor: Course) -> None:
    text = (EXAMPLES / "days" / "2026-06-13.toml").read_text(encoding="utf-8")
    table, members = typed_entry({"kind": "hole-location", "hole": "9", "on": "5", "side": "left", "from_edge": "9", "unit": "m"}, moor)
    changed = put_down(text, table, members, moor, where="day")
    assert [entry for entry in tomllib.loads(changed)["hole_locations"] if entry["hole"] == 9] == [{"hole": 9, "on_m": 5.0, "left_m": 9.0}]
    assert "# located by tape" in changed  # what somebody wrote stays


def test_the_last_thing_taken_up_leaves_a_day(moor: Course) -> None:
    text = take_up(laid(moor, kind="temporary-water", x="0", y="0", radius="2"), "conditions", 1, where="day")
    assert tomllib.loads(text) == {"date": DATE, "conditions": []}
    with pytest.raises(SurveyError, match="no such point"):
        take_up(text, "conditions", 1, where="day")
    with pytest.raises(SurveyError, match="no such point"):
        take_up(text, "date", 1, where="day")


def test_an_entry_that_does_not_fit_stands_in_the_list_and_can_be_taken_up(moor: Course) -> None:
    text = laid(moor, kind="temporary-water", x="0", y="0", radius="2") + "\n[[hole_locations]]\nhole = 99\non_m = 3\nleft_m = 3\n"
    seen = look_at_day(text, moor, where="day")
    assert "There is no hole 99" in seen.fault
    assert [(entry.table, entry.number, bool(entry.fault)) for entry in seen.entries] == [
        ("hole_locations", 1, True),
        ("conditions", 1, False),
    ]
    more = typed_entry({"kind": "no-play-zone", "x": "9", "y": "9", "radius": "2"}, moor)
    text = put_down(text, *more, moor, where="day")  # what is wrong elsewhere keeps nothing from being laid down
    assert look_at_day(take_up(text, "hole_locations", 1, where="day"), moor, where="day").fault == ""


def test_two_things_of_one_name_are_refused_when_the_day_was_sound(moor: Course) -> None:
    text = new_day(DATE)
    members = {"kind": "no-play-zone", "id": "nest", "x_m": 0.0, "y_m": 0.0, "radius_m": 2.0}
    text = put_down(text, "conditions", members, moor, where="day")
    with pytest.raises(SurveyError, match="already"):
        put_down(text, "conditions", members, moor, where="day")


# The page -------------------------------------------------------------------------------------------------------------


def lay(visit: GroundVisit, page: str, **fields: str) -> tuple[int, str, str]:
    return visit.post(page, "/ground/today", **fields)


def test_a_day_is_begun_by_a_form_and_ruled_on(tmp_path: Path) -> None:
    visit = GroundVisit(folder_with(tmp_path))
    page = visit.page("/ground/today?course=thimble-moor&hole=9")
    status, at, page = lay(
        visit, page, date="2026-07-04", kind="temporary-water", hole="9", before="30", right="3", radius="4", what="puddle"
    )
    assert status == 200
    assert stated(at) == {"course": "thimble-moor", "day": "2026-07-04", "hole": "9"}
    assert "30.00 m before the green, 3.00 m right of the line; 50.3 m²" in page
    day = read_day(tmp_path / "2026-07-04.toml", read_course(COURSE))
    middle = day.features[0].geometry.centroid
    facts = dict.fromkeys(("another_reason_makes_stroke_unreasonable", "interference_only_by_unreasonable_stroke"), False)
    player = {"hand": "right", "longest_club_in": 45, "club": "iron"}
    ball = {"x_m": round(middle.x, 2), "y_m": round(middle.y, 2)}
    case = {"hole": 9, "situation": "temporary-water", "ball": ball, "player": player, "facts": facts}
    asked = {"course": "thimble-moor", "books": ["2023"], "incident": case}
    with_water = visit.client.post("/api/rule", json={**asked, "day": "2026-07-04"}).json()["books"][0]["options"]
    assert [option["procedure"] for option in with_water] == ["ground-condition-general-area"]  # Rule 16.1b
    assert visit.client.post("/api/rule", json=asked).json()["books"][0]["options"] == []  # without the day there is no water


def test_what_was_laid_down_is_taken_up_and_brought_back(tmp_path: Path) -> None:
    visit = GroundVisit(folder_with(tmp_path, day=True))
    file = tmp_path / "2026-06-13.toml"
    before = file.read_bytes()
    page = visit.page("/ground/today?course=thimble-moor&day=2026-06-13&hole=12")
    status, at, page = visit.post(page, "/ground/take-up", table="conditions", number="3")
    assert status == 200
    assert "nest" not in file.read_text(encoding="utf-8")
    assert "no play zone, Hole 12 taken up." in page
    status, at, page = visit.post(page, "/ground/today/back")
    assert (status, file.read_bytes()) == (200, before)


def test_of_two_tabs_on_one_day_the_second_is_told_and_loses_nothing(tmp_path: Path) -> None:
    visit = GroundVisit(folder_with(tmp_path, day=True))
    file = tmp_path / "2026-06-13.toml"
    first = second = visit.page("/ground/today?course=thimble-moor&day=2026-06-13&hole=9")
    assert lay(visit, first, kind="hole-location", hole="3", on="6", side="left", from_edge="6", unit="m")[0] == 200
    kept = file.read_bytes()
    status, _, told = lay(visit, second, kind="temporary-water", hole="4", before="50", right="2", radius="3", what="ditch water")
    assert status == 422
    assert "was changed meanwhile" in told
    assert file.read_bytes() == kept
    fields = next(fields for action, fields in forms(told) if action == "/ground/today")
    assert (fields["kind"], fields["before"], fields["what"]) == ("temporary-water", "50", "ditch water")
    status, _, page = visit.post(told, "/ground/today")  # as it stands: typed in, and with the newer stamp
    assert status == 200
    text = file.read_text(encoding="utf-8")
    assert "ditch water" in text
    assert "hole = 3" in text


def test_of_two_tabs_that_begin_one_day_the_second_goes_on_with_the_first(tmp_path: Path) -> None:
    visit = GroundVisit(folder_with(tmp_path))
    page = visit.page("/ground/today?course=thimble-moor")
    assert lay(visit, page, date="2026-07-04", kind="no-play-zone", x="0", y="0", radius="2", what="first")[0] == 200
    status, _, told = lay(visit, page, date="2026-07-04", kind="no-play-zone", x="20", y="0", radius="2", what="second")
    assert status == 422
    assert "begun already" in told
    assert "first" in told
    assert visit.post(told, "/ground/today")[0] == 200
    assert [entry["what"] for entry in tomllib.loads((tmp_path / "2026-07-04.toml").read_text())["conditions"]] == ["first", "second"]
    assert [file.name for file in tmp_path.glob("*.toml")] == ["2026-07-04.toml"]


def test_a_day_of_another_date_says_so(tmp_path: Path) -> None:
    page = GroundVisit(folder_with(tmp_path, day=True)).page("/ground/today?course=thimble-moor&day=2026-06-13")
    assert re.search(r"This day is 2026-06-13, and today is \d{4}-\d\d-\d\d", page)


def test_a_day_that_does_not_fit_is_shown_with_what_is_wrong(tmp_path: Path) -> None:
    visit = GroundVisit(folder_with(tmp_path))
    (tmp_path / "old.toml").write_text(
        "date = 2020-01-01\n[[hole_locations]]\nhole = 99\non_m = 3\nleft_m = 3\n"
        '[[conditions]]\nkind = "no-play-zone"\nx_m = 0\ny_m = 0\nradius_m = 1\nwhat = "<b>x</b>"\n',
        encoding="utf-8",
    )
    page = visit.page("/ground/today?course=thimble-moor&day=old")
    assert "cannot lie here" in page
    assert "There is no hole 99" in page
    assert "<b>x</b>" not in page
    assert "&lt;b&gt;x&lt;/b&gt;" in page
    status, _, page = visit.post(page, "/ground/take-up", table="hole_locations", number="1")
    assert status == 200
    assert "cannot lie here" not in page


@pytest.mark.parametrize("date", ["", "13.6.2026", "2026-02-30", "x" * 200])
def test_a_date_that_is_none_is_told(tmp_path: Path, date: str) -> None:
    visit = GroundVisit(folder_with(tmp_path))
    page = visit.page("/ground/today?course=thimble-moor")
    status, _, told = lay(visit, page, date=date, kind="no-play-zone", x="0", y="0", radius="2")
    assert status == 422
    assert "is no date" in told
    assert list(tmp_path.glob("*.toml")) == []


@pytest.mark.parametrize("path", ["/ground", "/ground/today"])
def test_a_day_that_is_not_there_is_told_on_the_page(tmp_path: Path, path: str) -> None:
    page = GroundVisit(folder_with(tmp_path)).page(f"{path}?course=thimble-moor&day=nowhere&hole=99999&show=abc")
    assert "There is no day" in page
