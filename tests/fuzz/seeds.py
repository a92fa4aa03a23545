"""Small sound files of every kind that is read, all invented."""

from __future__ import annotations

import io
import tempfile
from datetime import date
from functools import cache
from pathlib import Path

from openpyxl import Workbook

from tests.support.mapped import Map, hole

ROOT = Path(__file__).parents[2]
COURSE = ROOT / "tests/data/invented/gull-bank.geojson"
FOREIGN = b"""{"type": "FeatureCollection", "name": "Elsewhere", "features": [
 {"type": "Feature", "properties": {"art": "edge"}, "geometry": {"type": "Polygon", "coordinates": [[[-2, 55], [-1.99, 55], [-1.99, 55.01], [-2, 55.01], [-2, 55]]]}},
 {"type": "Feature", "properties": {"art": "putting-green", "loch": "7, 16", "id": 4}, "geometry": {"type": "Polygon", "coordinates": [[[-1.995, 55.005], [-1.9948, 55.005], [-1.9948, 55.0052], [-1.995, 55.005]]]}},
 {"type": "Feature", "properties": {"art": "penalty-area", "mark": "red", "sigma_m": 0.3}, "geometry": {"type": "MultiPolygon", "coordinates": [[[[-1.997, 55.005], [-1.996, 55.005], [-1.996, 55.006], [-1.997, 55.005]]]]}},
 {"type": "Feature", "properties": {"art": "immovable-obstruction", "wide": "2.5"}, "geometry": {"type": "LineString", "coordinates": [[-1.994, 55.002], [-1.993, 55.004]]}},
 {"type": "Feature", "properties": {"art": "trees", "r": 4, "what": "oak"}, "geometry": {"type": "Point", "coordinates": [-1.992, 55.003]}},
 {"type": "Feature", "properties": {"art": "line-of-play", "loch": [7], "par": 4, "stroke_index": "3"}, "geometry": {"type": "LineString", "coordinates": [[-1.999, 55.002], [-1.995, 55.005]]}}
]}"""  # noqa: E501
WALK_GPX = b"""<?xml version="1.0"?>
<gpx version="1.1" creator="nobody" xmlns="http://www.topografix.com/GPX/1/1">
<trk><name>shore &amp; reeds</name><trkseg>
<trkpt lat="56.3100" lon="-2.7000"><ele>3.2</ele><time>2026-03-01T09:00:00Z</time></trkpt>
<trkpt lat="56.3102" lon="-2.6995"><hdop>1.2</hdop></trkpt>
<trkpt lat="56.3104" lon="-2.6999"/>
<trkpt lat="56.3101" lon="-2.7004"/>
</trkseg></trk>
</gpx>
"""
WALK_TABLE = b"point,lon,lat,accuracy_m\n1,-2.7000,56.3100,0.3\n2,-2.6995,56.3102,0.3\n3,-2.6999,56.3104,0.5\n4,-2.7004,56.3101,0.3\n"
WALK_METRES = b"stake;x_m;y_m\nA;10,5;20\nB;40;22\nC;41,5;60\n"
TEES = b"hole,tee,length_m,par,stroke_index,course rating,slope rating\n1,back,350,4,1,71.2,128\n1,front,300,4,2,68.0,119\n"
LOCATIONS = b"hole,on,left\n1,12,9\n"
DAY = b"""date = 2026-06-13
sigma_m = 0.3
pace_m = 0.9
[[conditions]]
kind = "temporary-water"
what = "puddle"
hole = 1
before_green_m = 30
right_m = 3
radius_m = 4
[[conditions]]
kind = "penalty-area"
mark = "red"
id = "flood"
ring = [[-2.700, 56.3098], [-2.6995, 56.3098], [-2.6995, 56.3100]]
[[conditions]]
kind = "ground-under-repair"
x_m = -40.5
y_m = 12
radius_m = 2.5
holes = [1]
[[hole_locations]]
hole = 1
on_paces = 14
left_paces = 12
"""
INCIDENT = b"""title = "Two views of one ball"
hole = 1
situation = "penalty-area"
form = "stroke-play"
ball = { x_m = 20.5, y_m = 3 }
[player]
hand = "left"
longest_club_in = 44.5
putter_in = 35
club = "wedge"
[facts]
known_in_penalty_area = true
crossed_at = { x_m = 18, y_m = 2 }
flight = [[-2.7, 56.31], [-2.6995, 56.3101]]
previous_stroke = { x_m = -100, y_m = 0, area = "general-area" }
[choice]
back_m = 4
reference = 1
[[conditions]]
kind = "animal-hole"
at = [-2.7, 56.31]
radius_m = 0.3
"""
HOLES = b"""left = ["loch-west"]
[[hole]]
number = 1
green = "green-1"
tees = ["tee-1"]
line = "line-1"
location = "hole-1"
sure = "stated"
number_sure = "drawn"
why = "the survey says so"
"""
DAYS = b"day,date,pair,rules,course,green speed\nd1,2026-04-04,p1,trial,Moor,9\nd2,2026-04-11,p1,ordinary,Moor,9\n"
VALUES = (
    b"day,outcome,value,group,player,hole,change,form,from,to\nd1,round_min,231,g1,,,,,,\nd2,round_min,240,g1,,,,,,\n"
    b"d1,ball_found,yes,g1,p1,4,1,,,\nd2,search_s,,g1,p1,4,1,2026-03-01,10:42:10,10:44\n"
)
SCORES = (
    b"date,holes,adjusted_gross,course_rating,slope,conditions,expected,differential,index,round\n"
    b"2025-04-01,18,94,73.0,125,0,,,,\n2025-04-08,18,88,71.8,128,1,,,,\n2025-04-15,9,42,35.3,121,0,8.5,,,1\n"
    b"2025-04-22,18,,,,,,-1.4,+2.4,\n2025-05-01,18,77,71.8,128,-1,,,12.2,\n"
)
TRIAL = ROOT / "examples/trials/four-changes.toml"
ADDING = ROOT / "examples/trials/divot-holes.toml"
SHEET = "key,present,now,reason,aim,shown by,direction,matters,not worse,margin,question,standing\n"


def workbook(*tables: tuple[str, bytes]) -> bytes:
    """Tables as one workbook, numbers as numbers and days as days."""
    made = Workbook()
    made.remove(made.worksheets[0])
    for name, table in tables:
        sheet = made.create_sheet(name)
        for line in table.decode().splitlines():
            sheet.append([_cell(cell) for cell in line.split(",")])
    held = io.BytesIO()
    made.save(held)
    return held.getvalue()


def _cell(text: str) -> object:
    for kind in (int, float, date.fromisoformat):
        try:
            return kind(text)
        except ValueError:
            continue
    return text or None


@cache
def map_data(ending: str) -> bytes:
    """A course of two holes as map data, with an area of several ways, a tree and a road."""
    with tempfile.TemporaryDirectory() as folder:
        made = Map(Path(folder) / f"seed{ending}", lon=-2.7, lat=56.3)
        made.box(-200, -50, 400, 400, leisure="golf_course", name="Seed & Sons")
        hole(made)
        hole(made, 2, x=60)
        outer = [made.way([(100, 0), (140, 0), (140, 40)], closed=False), made.way([(140, 40), (100, 40), (100, 0)], closed=False)]
        made.relation([(outer[0], "outer"), (outer[1], "outer"), (made.box(110, 10, 5, 5), "inner")], natural="water")
        made.box(20, 60, 12, 8, golf="bunker")
        made.way([(-100, 0), (-90, 300)], closed=False, highway="service", width="3.5 m")
        made.node((30, 90), natural="tree")
        made.node((0, 210), golf="pin", ref="1")
        return made.write().read_bytes()
