"""Chapters: forms that are posted, files that are chosen, what is saved in the folder, and the folder as it is now."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from marram.core.errors import DataError
from marram.desk.pages import chapter_list
from marram.desk.pages.chapter_list import Chapter, ChapterJobs
from marram.desk.pages.page import PDF, Desk, Page
from marram.desk.pages.posted import Posted
from marram.desk.rulings import desk_jobs
from marram.desk.rulings.ruling_process import DeskAsked, open_desk
from marram.desk.server import desk_app
from marram.desk.server.desk_app import make_app
from marram.desk.server.guard import LARGEST_BODY_BYTES, TOKEN, Door
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.keep_in_folder import ChangedMeanwhile, free_name, kept_text, save_text
from tests.desk.conftest import AT, PORT, DoneHere

DAY = "date = 2026-06-01\n[hole_locations]\n"
LARGEST = 3 * LARGEST_BODY_BYTES
TRY = Chapter(
    name="try",
    number=0,
    group="today",
    looks={"/try": "try", "/try/paper": "try-paper"},
    does={"/try/put": "try-put", "/try/refuse": "try-refuse"},
    takes_files={"/try/put": LARGEST},
)


def look(desk: Desk, query: str) -> Page:
    return Page(text=" ".join(desk.folder.names(Holding.DAY)))


def put(desk: Desk, posted: Posted) -> Page:
    file = posted.file("file")
    return Page(text=f"{posted.first('name')}|{posted.all('name')}|{file.name}|{len(file.data)}|{posted.address().first('hole')}")


def refuse(desk: Desk, posted: Posted) -> Page:
    posted.file("file")
    return Page(goes_to="/try")


@pytest.fixture
def asked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[TestClient]:
    """A desk on an empty folder, with a chapter of its own."""
    jobs = ChapterJobs(
        looks={"try": look, "try-paper": lambda desk, query: Page(media=PDF, data=b"%PDF-", saved_as="Übung 1.pdf")},
        does={"try-put": put, "try-refuse": refuse},
    )
    monkeypatch.setattr(desk_app, "chapters", lambda: (TRY,))
    monkeypatch.setattr(desk_jobs, "jobs_of_chapters", lambda: (jobs,))
    for cached in (desk_jobs.looking_jobs, desk_jobs.doing_jobs):
        cached.cache_clear()
    door = Door(port=PORT)
    client = TestClient(make_app(DoneHere(open_desk(DeskAsked(folder=tmp_path))), door), base_url=AT, headers={"origin": AT})
    client.get("/try", params={TOKEN: door.token}, follow_redirects=False)
    yield client
    for cached in (desk_jobs.looking_jobs, desk_jobs.doing_jobs):
        cached.cache_clear()


def test_fields_and_files_of_a_form_come_as_they_were_posted(asked: TestClient) -> None:
    data = {"name": ["<b>1</b>", "two"], "hole": "7"}
    told = asked.post("/try/put", data=data, files={"file": ("../moor.osm", b"x" * (LARGEST_BODY_BYTES + 1))}).text
    assert told == f"<b>1</b>|('<b>1</b>', 'two')|../moor.osm|{LARGEST_BODY_BYTES + 1}|7"


def test_a_file_larger_than_its_address_takes_is_refused_in_words(asked: TestClient) -> None:
    answer = asked.post("/try/put", data={"name": "a"}, files={"file": ("moor.osm", b"x" * LARGEST)})
    assert answer.status_code == 413
    assert f"{LARGEST // 1024} kB" in answer.text
    assert asked.post("/try/refuse", files={"file": ("moor.osm", b"x" * LARGEST_BODY_BYTES)}).status_code == 413


def test_a_form_without_its_file_is_told_and_a_damaged_one_is_no_fault_of_ours(asked: TestClient) -> None:
    answer = asked.post("/try/refuse", data={"name": "a"})
    assert answer.status_code == 422
    assert "No file was chosen" in answer.text
    damaged = asked.post("/try/put", content=b"--x\r\nrubbish", headers={"content-type": "multipart/form-data; boundary=x"})
    assert damaged.status_code in {400, 422}
    assert "No file was chosen" in damaged.text
    assert asked.post("/try/put", data={f"f{n}": "1" for n in range(2500)}).status_code == 400


def test_what_was_done_leads_on_and_a_paper_is_saved_under_its_name(asked: TestClient) -> None:
    done = asked.post("/try/refuse", files={"file": ("a", b"1")}, follow_redirects=False)
    assert (done.status_code, done.headers["location"]) == (303, "/try")
    paper = asked.get("/try/paper")
    assert (paper.content, paper.headers["content-type"]) == (b"%PDF-", "application/pdf")
    assert paper.headers["content-disposition"] == "attachment; filename*=UTF-8''%C3%9Cbung%201.pdf"


def test_a_file_that_somebody_puts_into_the_folder_is_seen_by_the_next_page(asked: TestClient, tmp_path: Path) -> None:
    assert asked.get("/try").text == ""
    (tmp_path / "june.toml").write_text(DAY)
    assert asked.get("/try").text == "june"
    (tmp_path / "june.toml").unlink()
    assert asked.get("/try").text == ""


def test_a_file_is_saved_only_over_what_its_page_was_made_from(tmp_path: Path) -> None:
    folder = open_desk(DeskAsked(folder=tmp_path)).folder
    first = save_text(folder, Holding.DAY, "june", DAY)
    assert (tmp_path / "june.toml").read_text() == DAY
    second = save_text(folder, Holding.DAY, "june", DAY + "# two\n", was=first.stamp)
    for stale in ("", first.stamp):
        with pytest.raises(ChangedMeanwhile) as problem:
            save_text(folder, Holding.DAY, "june", DAY + "# mine\n", was=stale)
        assert problem.value.present == DAY + "# two\n"
    assert kept_text(open_desk(DeskAsked(folder=tmp_path)).folder, Holding.DAY, "june") == second


def test_a_file_lies_where_it_lay_and_a_name_of_another_kind_is_not_taken(tmp_path: Path) -> None:
    (tmp_path / "days").mkdir()
    (tmp_path / "days" / "june.toml").write_text(DAY)
    folder = open_desk(DeskAsked(folder=tmp_path)).folder
    save_text(folder, Holding.DAY, "june", DAY + "# x\n", was=kept_text(folder, Holding.DAY, "june").stamp)
    assert (tmp_path / "days" / "june.toml").read_text().endswith("# x\n")
    assert not (tmp_path / "june.toml").exists()
    (tmp_path / "may.toml").write_text("anything = 1\n")
    with pytest.raises(ChangedMeanwhile):
        save_text(folder, Holding.DAY, "may", DAY)
    assert (tmp_path / "may.toml").read_text() == "anything = 1\n"


@pytest.mark.parametrize("name", ["", "../x", "a/b", "A", "x.toml", "-x", "x" * 61, "con\x00", "ü"])
def test_a_name_that_could_be_a_place_names_no_file(tmp_path: Path, name: str) -> None:
    with pytest.raises(DataError, match="cannot name a file"):
        save_text(open_desk(DeskAsked(folder=tmp_path)).folder, Holding.DAY, name, DAY)
    assert list(tmp_path.iterdir()) == []


def test_a_new_file_gets_a_name_of_its_own(tmp_path: Path) -> None:
    folder = open_desk(DeskAsked(folder=tmp_path)).folder
    assert free_name(folder, Holding.TRIAL, "Two metres & a half!") == "two-metres-a-half"
    assert free_name(folder, Holding.TRIAL, "草地") == "trial"
    (tmp_path / "trial.toml").write_text("")
    assert free_name(folder, Holding.TRIAL, "草地") == "trial-2"
    save_text(folder, Holding.TRIAL, free_name(folder, Holding.TRIAL, "x" * 200), "")


def test_every_chapter_has_a_number_of_its_own_and_a_title() -> None:
    shown = [chapter for told in chapter_list.in_head().values() for chapter in told]
    assert len({chapter.number for chapter in shown}) == len(shown)
    assert [chapter.number for chapter in shown] == sorted(chapter.number for chapter in shown)
    jobs = [job for chapter in shown for job in (*chapter.looks.values(), *chapter.does.values())]
    assert len(jobs) == len(set(jobs))
