"""A desk on a folder of its own, whose pages of the ground are looked at and posted to as a browser does without script."""

from __future__ import annotations

import re
import shutil
from html import unescape
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

from shapely.geometry import Point, box
from starlette.testclient import TestClient

from marram.core.terms import FeatureKind, Mark
from marram.desk.rulings.ruling_process import DeskAsked, open_desk
from marram.desk.server.desk_app import make_app
from marram.desk.server.guard import TOKEN, Door
from marram.interchange.courses.course_geojson import write_course
from tests.desk.conftest import AT, EXAMPLES, PORT, ROOT, DoneHere
from tests.support.ground import course, feature

MAPS = ROOT / "tests" / "data" / "courses"
FORM = re.compile(r'<form[^>]*method="post"[^>]*action="([^"]+)"[^>]*>(.*?)</form>', re.DOTALL)
FIELD = re.compile(r"<(?:input|textarea|select)[^>]*?\bname=\"([^\"]+)\"[^>]*>")
VALUE = re.compile(r'\bvalue="([^"]*)"')


class GroundVisit:
    """Somebody at a desk on a folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        door = Door(port=PORT)
        self.client = TestClient(make_app(DoneHere(open_desk(DeskAsked(folder=folder))), door), base_url=AT, headers={"origin": AT})
        self.client.get("/", params={TOKEN: door.token}, follow_redirects=False)

    def page(self, path: str, status: int = 200) -> str:
        answer = self.client.get(path)
        assert answer.status_code == status, answer.text.partition('role="alert"')[2][:400] or answer.text[:400]
        return answer.text

    def bring(self, file: str, data: bytes, path: str = "/ground/bring", /, **fields: str) -> tuple[int, str, str]:
        """Send a file, and give the status, the address that one comes to, and the page there."""
        page = self.client.get(path).text
        form = next(form for form in forms(page) if form[0] == "/ground/bring")
        answer = self.client.post("/ground/bring", data={**form[1], **fields}, files={"file": (file, data)})
        return answer.status_code, str(answer.url), answer.text

    def post(self, page: str, action: str, /, **fields: str) -> tuple[int, str, str]:
        """Send a form of a page: the one whose hidden fields agree with those given, the others are filled in."""
        fitting = [form for form in forms(page) if form[0] == action and all(form[1].get(name) == value for name, value in fields.items())]
        given = fitting[0][1] if fitting else next(form for form in forms(page) if form[0] == action)[1] | fields
        answer = self.client.post(action, data=given)
        return answer.status_code, str(answer.url), answer.text


def forms(page: str) -> list[tuple[str, dict[str, str]]]:
    """Address and fields of each form that a page posts; fields are empty where the page leaves them so."""
    found = []
    for action, body in FORM.findall(page):
        fields = {}
        for match in FIELD.finditer(body):
            if 'type="radio"' in match.group() and "checked" not in match.group():
                continue
            value = VALUE.search(match.group())
            fields[unescape(match.group(1))] = unescape(value.group(1)) if value else ""
        for name, options in re.findall(r'<select name="([^"]+)">(.*?)</select>', body, re.DOTALL):
            chosen = re.search(r'value="([^"]*)" selected', options) or re.search(r'value="([^"]*)"', options)
            fields[name] = unescape(chosen.group(1)) if chosen else ""
        for name, text in re.findall(r'<textarea name="([^"]+)"[^>]*>(.*?)</textarea>', body, re.DOTALL):
            fields[name] = unescape(text)
        found.append((action, fields))
    return found


def stated(address: str) -> dict[str, str]:
    """What an address states."""
    return {name: values[0] for name, values in parse_qs(urlsplit(address).query).items()}


def folder_with(tmp_path: Path, *, day: bool = False) -> Path:
    """A folder that holds the course of the examples, and its day if that is wanted."""
    shutil.copy(EXAMPLES / "courses" / "thimble-moor.geojson", tmp_path / "thimble-moor.geojson")
    if day:
        shutil.copy(EXAMPLES / "days" / "2026-06-13.toml", tmp_path / "2026-06-13.toml")
    return tmp_path


def ponds() -> bytes:
    """A course file with one hole, two ponds that nobody marked, and a green that serves no hole."""
    water = [
        feature(name, FeatureKind.PENALTY_AREA, ground, mark=Mark.UNMARKED, what="pond")
        for name, ground in (("pond-1", box(-40, -80, -20, -60)), ("pond-2", box(60, -200, 90, -170)))
    ]
    spare = feature("green-x1", FeatureKind.PUTTING_GREEN, Point(150, 0).buffer(10), sigma_m=None)
    return write_course(course(*water, spare)).replace("Test Ground", "Ponds").encode()


def ponds_visit(tmp_path: Path) -> tuple[GroundVisit, str]:
    """A visit to the ground of that course, and its page."""
    (tmp_path / "ponds.geojson").write_bytes(ponds())
    visit = GroundVisit(tmp_path)
    return visit, visit.page("/ground?course=ponds")
