"""Everything that can be brought in, one made here and one cut from real maps of each kind, passes every command.

Sources of the real ones: tests/data/courses/SOURCES.md. (c) OpenStreetMap contributors, Open Database License (ODbL) 1.0.
"""

from __future__ import annotations

import json
from pathlib import Path

import openpyxl
import pytest

from tests.support.every_command import ask_everything
from tests.support.mapped import Map, hole
from tests.support.odd_courses import odd_course
from tests.support.running import Run

REAL = Path(__file__).resolve().parents[1] / "data" / "courses"
THREE_HOLES = REAL / "iom-parkland-three-holes.geojson"
GEOJSON_WORDS = ["kind=golf", "holes=ref", "par=par", "stroke_index=handicap", "id=osm"]
GEOJSON_VALUES = ["green=putting-green", "tee=teeing-area", "hole=line-of-play"]


def bring_in(called: Run, source: Path, out: Path, *words: str) -> Path:
    code, _, complaint = called("course", "import", str(source), "-o", str(out), *words)
    assert code == 0, complaint
    return out


def made_map(path: Path) -> Path:
    """Two holes, a pond, a stream that leaves the course, a path, a bunker, a green without a hole."""
    made = Map(path)
    made.box(-200, -50, 400, 400, leisure="golf_course")
    hole(made, 1)
    hole(made, 2, x=90.0)
    made.box(20, 80, 30, 25, natural="water")
    made.way([(-260, 120), (-80, 140), (120, 120), (260, 150)], closed=False, waterway="stream")
    made.way([(30, -20), (40, 60), (45, 260)], closed=False, highway="path")
    made.box(-30, 190, 9, 7, golf="bunker")
    made.box(-120, 250, 20, 20, golf="green")
    return made.write()


def foreign(path: Path) -> Path:
    """The same words as other programs have them: another kind for each thing, points and lines with a width."""
    raw = odd_course(5, ("touching-paths", "red-meets-yellow"))
    for feature in raw["features"]:  # type: ignore[attr-defined]
        own = feature["properties"]
        feature["properties"] = {"type": f"my {own['kind']}", "no": ",".join(map(str, own.get("holes", []))), "colour": own.get("mark")}
    path.write_text(json.dumps({"type": "FeatureCollection", "features": raw["features"]}), encoding="utf-8")
    return path


def foreign_words() -> list[str]:
    kinds = ("boundary", "penalty-area", "putting-green", "teeing-area", "line-of-play", "hole-location", "immovable-obstruction")
    values = [word for kind in kinds for word in ("--value", f"my {kind}={kind}")]
    return ["--property", "kind=type", "--property", "holes=no", "--property", "mark=colour", *values]


def own_course(path: Path) -> Path:
    path.write_text(json.dumps(odd_course(5, ("nested-water",))), encoding="utf-8")
    return path


def corners_of_a_walk(course: Path) -> list[list[float]]:
    """A triangle on the first hole of a course, as longitude and latitude."""
    raw = json.loads(course.read_text(encoding="utf-8"))
    line = next(feature for feature in raw["features"] if feature["properties"]["kind"] == "line-of-play")
    x, y = line["geometry"]["coordinates"][-1]
    return [[x + 0.0003, y], [x + 0.0005, y], [x + 0.0004, y + 0.0001]]


def as_gpx(corners: list[list[float]], path: Path) -> Path:
    points = "".join(f'<trkpt lat="{lat}" lon="{lon}"/>' for lon, lat in corners)
    path.write_text(f'<gpx version="1.1" creator="t"><trk><trkseg>{points}</trkseg></trk></gpx>', encoding="utf-8")
    return path


def as_book(rows: list[list[object]], path: Path) -> Path:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)  # type: ignore[union-attr]
    book.save(path)
    return path


def as_csv(rows: list[list[object]], path: Path) -> Path:
    path.write_text("\n".join(",".join(map(str, row)) for row in rows) + "\n", encoding="utf-8")
    return path


@pytest.fixture
def real_holes(called: Run, tmp_path: Path) -> Path:
    """Three holes of a real course."""
    words = [*(f"--property={word}" for word in GEOJSON_WORDS), *(f"--value={word}" for word in GEOJSON_VALUES)]
    return bring_in(called, THREE_HOLES, tmp_path / "three.geojson", "--sigma-m", "1", *words)


# Maps and GeoJSON -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["made.osm", "made.osm.pbf", "made.osm.bz2"])
def test_a_made_map_in_each_form(called: Run, tmp_path: Path, name: str) -> None:
    course = bring_in(called, made_map(tmp_path / name), tmp_path / "c.geojson", "--mark", "all=red")
    ask_everything(called, course, tmp_path, seed=1)


def test_a_real_map_in_binary_form_is_the_same_course(called: Run, tmp_path: Path) -> None:
    text = bring_in(called, REAL / "iom-parkland-18-ponds.osm", tmp_path / "x.geojson", "--name", "P").read_text(encoding="utf-8")
    binary = bring_in(called, REAL / "iom-parkland-18-ponds.osm.pbf", tmp_path / "p.geojson", "--name", "P").read_text(encoding="utf-8")
    assert binary == text.replace("iom-parkland-18-ponds.osm", "iom-parkland-18-ponds.osm.pbf")


@pytest.mark.long
@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("iom-parkland-18-ponds.osm", ["--mark", "all=red", "--sigma-m", "1"]),
        ("iom-parkland-18-ponds.osm.pbf", []),
        ("malta-flat-18-coarse.osm", []),
        ("malta-flat-18-coarse.osm", ["--mark", "all=yellow", "--hole", "green-x2=2", "--draw-lines"]),
    ],
)
def test_real_maps(called: Run, tmp_path: Path, name: str, words: list[str]) -> None:
    ask_everything(called, bring_in(called, REAL / name, tmp_path / "c.geojson", *words), tmp_path, seed=2, places=2, balls=20)


def test_made_geojson_from_elsewhere(called: Run, tmp_path: Path) -> None:
    course = bring_in(called, foreign(tmp_path / "f.geojson"), tmp_path / "c.geojson", *foreign_words())
    raw = json.loads(course.read_text(encoding="utf-8"))
    assert {feature["properties"]["kind"] for feature in raw["features"]} >= {"boundary", "penalty-area", "immovable-obstruction"}
    ask_everything(called, course, tmp_path, seed=3)


def test_real_geojson_from_elsewhere(called: Run, real_holes: Path, tmp_path: Path) -> None:
    raw = json.loads(real_holes.read_text(encoding="utf-8"))
    numbers = {number for feature in raw["features"] for number in feature["properties"].get("holes", [])}
    assert numbers == {12, 13, 14}
    ask_everything(called, real_holes, tmp_path, seed=4)


# Walks, hole locations, tees ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["gpx", "csv", "xlsx"])
def test_a_made_walk_in_each_form(called: Run, tmp_path: Path, form: str) -> None:
    course = own_course(tmp_path / "own.geojson")
    corners = corners_of_a_walk(course)
    rows: list[list[object]] = [["lon", "lat"]]
    rows += [[lon, lat] for lon, lat in corners]
    path = tmp_path / f"walk.{form}"
    source = as_gpx(corners, path) if form == "gpx" else as_csv(rows, path) if form == "csv" else as_book(rows, path)
    words = ["--as", "walk", "--onto", str(course), "--kind", "penalty-area", "--id", "ditch-1", "--mark", "red"]
    ask_everything(called, bring_in(called, source, tmp_path / "c.geojson", *words), tmp_path, seed=5)


@pytest.mark.parametrize("form", ["gpx", "csv"])
def test_a_real_shore_as_a_walk(called: Run, tmp_path: Path, form: str) -> None:
    onto = bring_in(called, REAL / "iom-parkland-18-ponds.osm.pbf", tmp_path / "p.geojson", "--mark", "all=red")
    words = ["--as", "walk", "--onto", str(onto), "--kind", "penalty-area", "--id", "walked", "--mark", "yellow", "--sigma-m", "0.5"]
    course = bring_in(called, REAL / f"iom-parkland-shore.{form}", tmp_path / "c.geojson", *words)
    raw = json.loads(course.read_text(encoding="utf-8"))
    walked = next(feature for feature in raw["features"] if feature["properties"]["id"] == "walked")
    assert len(walked["geometry"]["coordinates"][0]) == 20
    code, _, _ = called("course", "check", str(course), "--json")
    assert code == 1


@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_made_hole_locations_and_tees_in_each_form(called: Run, tmp_path: Path, form: str) -> None:
    write = as_csv if form == "csv" else as_book
    places = write([["hole", "on", "left"], [1, 9, 8], [2, 12, 9]], tmp_path / f"places.{form}")
    tees = write(
        [["hole", "tee", "length_m", "par", "stroke_index"], [1, "back", 300, 4, 2], [2, "back", 301, 4, 1]], tmp_path / f"tees.{form}"
    )
    course = own_course(tmp_path / "own.geojson")
    placed = bring_in(called, places, tmp_path / "p.geojson", "--as", "hole-locations", "--onto", str(course))
    ask_everything(called, bring_in(called, tees, tmp_path / "t.geojson", "--as", "tees", "--onto", str(placed)), tmp_path, seed=6)


def test_hole_locations_and_tees_on_real_holes(called: Run, real_holes: Path, tmp_path: Path) -> None:
    """The paces are invented; par and stroke index are the map's."""
    places = as_csv([["hole", "on", "left", "right"], [12, 8, 6, ""], [13, 9, "", 6]], tmp_path / "places.csv")
    # The map numbers its lines and not its greens: those are proposed by the lines, and put on.
    for words in (["--propose", "-o", str(tmp_path / "t.toml")], ["--from", str(tmp_path / "t.toml"), "-o", str(real_holes)]):
        assert called("course", "holes", str(real_holes), *words)[0] == 0
    placed = bring_in(called, places, tmp_path / "p.geojson", "--as", "hole-locations", "--onto", str(real_holes))
    rows = (REAL / "iom-parkland-tees.csv").read_text(encoding="utf-8").splitlines()
    tees = tmp_path / "tees.csv"
    tees.write_text("\n".join([rows[0], *(row for row in rows if row.split(",")[0] in {"12", "13", "14"})]), encoding="utf-8")
    done = bring_in(called, tees, tmp_path / "t.geojson", "--as", "tees", "--onto", str(placed))
    _, told, _ = called("course", "check", str(done), "--json")
    found = {entry["hole"]: (entry["par"], entry["stroke_index"], bool(entry["green"])) for entry in json.loads(told)["holes"]}
    # Read off the map by hand: ways with golf=hole and ref 12, 13 and 14.
    assert {number: found[number] for number in (12, 13, 14)} == {12: (4, 4, True), 13: (5, 14, True), 14: (3, 6, True)}
    ask_everything(called, done, tmp_path, seed=7)


# Odd courses ----------------------------------------------------------------------------------------------------------


def written(tmp_path: Path, seed: int) -> Path:
    path = tmp_path / "odd.geojson"
    path.write_text(json.dumps(odd_course(seed)), encoding="utf-8")
    return path


@pytest.mark.parametrize("seed", [4, 9, 14, 26, 39, 44, 59, 69])
def test_odd_courses(called: Run, tmp_path: Path, seed: int) -> None:
    ask_everything(called, written(tmp_path, seed), tmp_path, seed=seed, places=0)


@pytest.mark.long
@pytest.mark.parametrize("start", range(0, 300, 10))
def test_three_hundred_odd_courses(called: Run, tmp_path: Path, start: int) -> None:
    for seed in range(start, start + 10):
        ask_everything(called, written(tmp_path, seed), tmp_path, seed=seed, balls=4)


# Lines that are to be drawn -------------------------------------------------------------------------------------------


def test_lines_that_are_not_drawn_say_why(called: Run, tmp_path: Path) -> None:
    bare = Map(tmp_path / "bare.osm")
    bare.box(-200, -50, 400, 400, leisure="golf_course")
    bare.box(-5, 5, 10, 10, golf="tee")
    bare.box(-10, 200, 20, 20, golf="green")
    code, told, _ = called("course", "import", str(bare.write()), "-o", str(tmp_path / "c.geojson"), "--draw-lines")
    assert code == 0
    assert "Note: No line of play was drawn: no tee and no green has a number yet; marram course holes proposes them." in told
    code, told, _ = called("course", "import", str(made_map(tmp_path / "made.osm")), "-o", str(tmp_path / "c.geojson"), "--draw-lines")
    assert "Note: No line of play was drawn: every hole that has a number has one." in told
    words = ["--draw-lines", "--hole", "green-x1=3"]
    code, told, _ = called("course", "import", str(made_map(tmp_path / "made.osm")), "-o", str(tmp_path / "c.geojson"), *words)
    assert "Note: No line of play could be drawn for hole 3 (no tee)." in told
