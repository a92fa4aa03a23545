"""The sheets of the desk: the list is whole, offers what the folder can give and no more, and what is shown is what is saved."""

from __future__ import annotations

import io
import os
import re
import shutil
import time
from collections.abc import Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path
from urllib.parse import urlencode

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from marram.core.errors import Stopped
from marram.desk.chapters.sheets.print_asked import sheets_asked
from marram.desk.pages.case_address import Address
from marram.desk.rulings.ruling_process import DeskAsked, open_desk
from marram.desk.server.desk_app import make_app
from marram.desk.server.guard import POLICY, TOKEN, Door
from marram.office.at_desk.desk_folder import read_folder
from marram.office.sheets.every_print import every_print
from marram.office.sheets.folder_papers import STORE, folder_papers, named
from marram.office.sheets.print_makers import HTML, PDF
from marram.office.sheets.print_sheet import print_relief
from marram.office.sheets.printed_from import Field, Need, PrintAsked
from marram.office.workroom import Workroom
from tests.desk.conftest import AT, EXAMPLES, PORT, DoneHere
from tests.support.documents import WRITERS, run_day
from tests.support.running import marram

PRINTS = {one.name: one for one in every_print()}
SLOW = {"guide", "guide-leaflet", "guide-phone", "guide-screen", "marking", "report", "report-page"}
"""Made by their commands in the tests of documents; here one of each kind is enough."""
SPREAD = ("--sd", "search_s=9", "--sd", "relief_s=5", "--sd", "rulings=0.2", "--leave-out", "4", "--seed", "three-firths-2026")


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that holds everything: the examples, a frozen plan and an event."""
    folder = tmp_path_factory.mktemp("whole") / "desk"
    shutil.copytree(EXAMPLES, folder)
    plan = marram("trial", "plan", "examples/trials/four-changes.toml", *SPREAD, "-o", str(folder / "plan.json"))
    assert plan.returncode == 0, plan.stderr
    run_day(folder / STORE)
    return folder


def visitor(folder: Path, scratch: Path) -> TestClient:
    door = Door(port=PORT)
    desk = replace(open_desk(DeskAsked(folder=folder)), scratch=scratch)
    made = TestClient(make_app(DoneHere(desk), door), base_url=AT, headers={"origin": AT})
    made.get("/", params={TOKEN: door.token}, follow_redirects=False)
    return made


@pytest.fixture(scope="module")
def asked(whole: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    yield visitor(whole, tmp_path_factory.mktemp("kept"))


def test_no_command_that_writes_documents_is_missing_from_the_list() -> None:
    assert {one.command for one in every_print()} == set(WRITERS)
    assert len(PRINTS) == len(every_print())


def test_the_list_has_every_print_once_and_all_can_be_made_from_a_whole_folder(asked: TestClient) -> None:
    text = asked.get("/sheets?book=2019&book=2023&trial=four-changes").text
    assert re.findall(r'data-print="([^"]+)"', text) == list(PRINTS)
    assert f"{len(PRINTS)} of {len(PRINTS)} can be made" in text
    assert "Missing:" not in text


def test_an_empty_folder_offers_what_needs_nothing_and_says_what_the_rest_lacks(tmp_path: Path) -> None:
    there = visitor(tmp_path, tmp_path / "kept")
    text = there.get("/sheets").text
    offered = {name for name, one in PRINTS.items() if not one.needs}
    assert offered == {"relief", "strip"}
    for name, item in re.findall(r'<li[^>]*data-print="([^"]+)">(.*?)</li>', text, re.DOTALL):
        assert ("/sheets/show?" in item) == (name in offered), name
        assert ("Missing:" in item) == (name not in offered), name
    for name in PRINTS.keys() - offered:
        page = there.get(f"/sheets/show?print={name}").text
        assert "Missing:" in page
        assert 'id="make"' not in page
        refused = there.post("/sheets/make", data={"print": name})
        assert refused.status_code == 422
        assert "does not hold what it is made from" in refused.text


@pytest.mark.parametrize("need", list(Need))
def test_a_print_lacks_exactly_what_the_folder_lacks(need: Need, whole: Path) -> None:
    """What is lacking is told of just the prints that need it."""
    desk = open_desk(DeskAsked(folder=whole))
    all_there = sheets_asked(desk, Address(values={"book": ("2019", "2023"), "trial": ("four-changes",)}))
    for one in every_print():
        given = all_there.of(one)
        assert one.missing(given) == ()
        without = {
            Need.SECOND_BOOK: replace(given, books=given.books[:1]),
            Need.CASE: replace(given, case=None),
            Need.PLAN: replace(given, papers=replace(given.papers, plans={})),
            Need.RECORDS: replace(given, papers=replace(given.papers, seasons={})),
            Need.INCIDENTS: replace(given, papers=replace(given.papers, incidents={})),
            Need.TASKS: replace(given, papers=replace(given.papers, tasks={})),
            Need.EVENT: replace(given, papers=replace(given.papers, store=None)),
        }.get(need, replace(given, folder=replace(given.folder, files={kind: {} for kind in given.folder.files})))
        lacking = one.missing(without)
        assert (need in lacking) == (need in one.needs), (one.name, need)


@pytest.mark.parametrize("name", sorted(PRINTS.keys() - SLOW))
def test_what_is_shown_is_what_is_saved(asked: TestClient, name: str) -> None:
    one = PRINTS[name]
    stated = {"print": name, "trial": "four-changes", "course": "thimble-moor", "ball": "pond-7"}
    fields = [
        *stated.items(),
        ("book", "2019"),
        ("book", "2023"),
        *([("seed", "firths")] if Field.SEED in one.fields else []),
        *([("procedure", "animal-hole-relief")] if Field.PROCEDURE in one.fields else []),
    ]
    before = asked.get(f"/sheets/show?{urlencode(fields)}").text
    assert "Not made yet." in before
    made = asked.post("/sheets/make", content=urlencode(fields), headers={"content-type": "application/x-www-form-urlencoded"})
    assert made.status_code == 200, re.sub(r"<[^>]+>", " ", made.text)[-600:]
    saved = asked.get(f"/sheets/file?{urlencode(fields)}")
    assert saved.headers["content-security-policy"] == POLICY
    assert f"{name}.{one.form}" in saved.headers["content-disposition"]
    if one.form == HTML:
        assert saved.headers["content-type"].startswith("text/html")
        assert "<html" in saved.text
        assert "It is a page of its own" in made.text
        return
    assert saved.headers["content-type"] == "application/pdf"
    pages = len(PdfReader(io.BytesIO(saved.content)).pages)
    pictures = [unescape(found) for found in re.findall(r'<img src="([^"]+)"', made.text)]
    assert len(pictures) == pages
    for link in pictures:
        picture = asked.get(link)
        assert picture.headers["content-type"] == "image/png"
        assert picture.content.startswith(b"\x89PNG")
    assert asked.get(pictures[-1].replace(f"number={pages}", f"number={pages + 1}")).status_code == 422


def test_a_sheet_is_the_same_from_the_desk_and_from_its_command(asked: TestClient) -> None:
    asked.post("/sheets/make", data={"print": "relief", "book": "2016"})
    assert asked.get("/sheets/file?print=relief&book=2016").content == print_relief(Workroom().book("2016"))


def test_a_print_is_made_once_and_anew_when_something_of_it_changes(whole: Path, tmp_path: Path) -> None:
    desk = replace(open_desk(DeskAsked(folder=whole)), scratch=tmp_path)
    strip, seen = PRINTS["strip"], []

    def make(address: Address) -> None:
        given = sheets_asked(desk, address)
        of = given.of(strip)
        if given.kept.find(strip, of) is None:
            seen.append(of.fields[Field.LENGTH])
            given.kept.make(strip, of)

    one, other = Address(values={"length": ("50cm",)}), Address(values={"length": ("51cm",)})
    for address in (one, one, other, one.put(course="thimble-moor", trial="four-changes")):
        make(address)
    assert seen == ["50cm", "51cm"]
    (whole / "one-more.toml").write_text("date = 2026-06-01\n[hole_locations]\n", encoding="utf-8")
    make(one)
    (whole / "one-more.toml").unlink()
    assert seen == ["50cm", "51cm", "50cm"]


def test_how_far_a_print_is_can_be_looked_at_while_it_is_made(whole: Path, tmp_path: Path) -> None:
    desk = replace(open_desk(DeskAsked(folder=whole)), scratch=tmp_path)
    given, told = sheets_asked(desk, Address(values={})), []

    def make(asked_for: PrintAsked) -> bytes:
        asked_for.work.tell("trying spots", 3, 40)
        told.append(given.kept.how_far(slow, given.of(slow)))
        return b"%PDF-made"

    slow = replace(PRINTS["strip"], make=make)
    assert given.kept.how_far(slow, given.of(slow)).doing == ""
    given.kept.make(slow, given.of(slow))
    assert [(far.doing, far.done, far.whole) for far in told] == [("trying spots", 3, 40)]
    assert given.kept.how_far(slow, given.of(slow)).doing == ""
    assert given.kept.find(slow, given.of(slow)) is not None


def test_prints_that_were_made_longest_ago_are_let_go(whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("marram.office.sheets.kept_prints._MOST_KEPT", 2)
    desk = replace(open_desk(DeskAsked(folder=whole)), scratch=tmp_path)
    strip = PRINTS["strip"]
    for length in ("50cm", "51cm", "52cm"):
        given = sheets_asked(desk, Address(values={"length": (length,)}))
        given.kept.make(replace(strip, make=lambda asked_for: b"%PDF-"), given.of(strip))
        age_s = {"50cm": 30, "51cm": 20, "52cm": 10}[length]
        made = given.kept.find(strip, given.of(strip))
        if made is not None:
            os.utime(made.place, (time.time() - age_s, time.time() - age_s))
    assert len([place for place in tmp_path.iterdir() if place.is_dir()]) == 2
    newest = sheets_asked(desk, Address(values={"length": ("52cm",)}))
    assert newest.kept.find(strip, newest.of(strip)) is not None


@pytest.mark.parametrize(
    ("stated", "said"),
    [
        ({"print": "poster"}, "There is no print"),
        ({"print": "strip", "length": "9 parsecs"}, "parsecs"),
        ({"print": "hole", "hole": "77"}, "77"),
        ({"print": "hole", "hole": "x"}, "is no whole number"),
        ({"print": "clarity", "people": "6"}, "No seed is stated."),
        ({"print": "procedure", "procedure": "levitation"}, "There is no procedure"),
        ({"print": "papers", "trial": "../../etc/passwd"}, "There is no trial"),
        ({"print": "cards", "competition": "another"}, "There is no event"),
    ],
)
def test_what_cannot_be_made_is_said_on_a_page(asked: TestClient, stated: dict[str, str], said: str) -> None:
    answer = asked.post("/sheets/make", data=stated)
    assert answer.status_code == 422
    assert said in unescape(answer.text)
    assert "Traceback" not in answer.text


def test_nothing_is_sent_that_was_not_made(asked: TestClient) -> None:
    for path in ("/sheets/file?print=strip&length=33cm", "/sheets/picture?print=strip&length=33cm&number=1", "/sheets/picture?print=strip"):
        answer = asked.get(path)
        assert answer.status_code == 422
        assert answer.headers["content-type"].startswith("text/html")


def test_a_folder_names_what_papers_are_made_from(whole: Path, tmp_path: Path) -> None:
    found = folder_papers(read_folder(whole))
    assert set(found.plans) == {"plan"}
    assert set(found.seasons) == {"season"}
    assert found.seasons["season"].asked is not None
    assert set(found.incidents) == {"incidents"}
    assert set(found.tasks) == {"tasks"}
    assert found.store == whole / STORE
    (tmp_path / "plan.json").write_text('{"schema": "marram.ruling/1"}', encoding="utf-8")
    (tmp_path / "broken.json").write_text('{"schema": "marram.trial-plan/1', encoding="utf-8")
    (tmp_path / "days.csv").write_text("day\n", encoding="utf-8")
    none = folder_papers(read_folder(tmp_path))
    assert (none.plans, none.seasons, none.incidents, none.tasks, none.store) == ({}, {}, {}, {}, None)


def test_one_of_several_is_named() -> None:
    places = {"first": Path("a"), "second": Path("b")}
    assert named(places, "second", "plan") == Path("b")
    assert named({"only": Path("c")}, "", "plan") == Path("c")
    for name, said in (("", "Name the plan"), ("secund", "Nearest: second")):
        with pytest.raises(Exception, match=said):
            named(places, name, "plan")


def test_every_form_of_a_print_is_one_that_is_served() -> None:
    assert {one.form for one in every_print()} == {PDF, HTML}


def test_the_ruling_of_an_address_is_the_one_that_is_printed(asked: TestClient) -> None:
    case = {"print": "ruling", "course": "thimble-moor", "hole": "7", "situation": "unplayable", "x": "-376", "y": "80", "longest": "45"}
    asked.post("/sheets/make", data=case)
    printed = asked.get(f"/sheets/file?{urlencode(case)}")
    words = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(printed.content)).pages).lower()
    assert "hole 7" in words
    assert "hole 15" not in words


def test_what_is_being_made_stops_when_the_desk_is_closed(whole: Path, tmp_path: Path) -> None:
    desk = replace(open_desk(DeskAsked(folder=whole)), scratch=tmp_path / "kept")
    given = sheets_asked(desk, Address(values={}))

    def make(asked_for: PrintAsked) -> bytes:
        shutil.rmtree(tmp_path / "kept")
        asked_for.work.tell("trying spots", 4, 40)
        return b"%PDF-made"

    with pytest.raises(Stopped):
        given.kept.make(replace(PRINTS["strip"], make=make), given.of(PRINTS["strip"]))


def test_a_store_in_another_folder_is_not_the_one_beside_the_desk(tmp_path: Path) -> None:
    (tmp_path / "old").mkdir()
    (tmp_path / "old" / STORE).write_bytes(b"")
    assert folder_papers(read_folder(tmp_path)).store is None
