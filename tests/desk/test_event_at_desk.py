"""The event at the desk: what the store holds is shown as its papers have it; nothing is written; what is missing is said."""

from __future__ import annotations

import re
import shutil
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from marram.desk.pages.interface_words import interface_words
from marram.desk.rulings.ruling_process import DeskAsked, open_desk
from marram.desk.server.desk_app import make_app
from marram.desk.server.guard import TOKEN, Door
from marram.office.sheets.folder_papers import STORE
from marram.scoring.cards.card import CardStatus
from marram.store.kept_rows import Kind
from tests.desk.conftest import AT, EXAMPLES, PORT, DoneHere
from tests.support.documents import run_day
from tests.support.running import marram


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("event")
    shutil.copytree(EXAMPLES / "trials", made / "trials")
    run_day(made / STORE)
    return made


def visitor(folder: Path) -> TestClient:
    door = Door(port=PORT)
    made = TestClient(make_app(DoneHere(open_desk(DeskAsked(folder=folder))), door), base_url=AT, headers={"origin": AT})
    made.get("/", params={TOKEN: door.token}, follow_redirects=False)
    return made


@pytest.fixture(scope="module")
def seen(folder: Path) -> TestClient:
    return visitor(folder)


def plain(text: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", text)).split())


def test_without_a_store_it_is_said_how_one_is_begun(tmp_path: Path) -> None:
    for path in ("/event", "/event/results", "/event/log"):
        answer = visitor(tmp_path).get(path)
        assert answer.status_code == 200
        assert "No event in this folder" in answer.text


def test_everybody_who_entered_stands_in_the_list_with_group_and_time(seen: TestClient, folder: Path) -> None:
    text = plain(seen.get("/event").text)
    players = [line.split(",")[0] for line in (EXAMPLES / "events" / "entries.csv").read_text(encoding="utf-8").splitlines()[1:] if line]
    assert len(players) > 4
    assert all(player in text for player in players)
    times = marram("event", "times", "--store", str(folder / STORE), "--who", "Rowan", "--json")
    assert re.search(r"\b\d{1,2}:\d\d\b", text), times.stderr


def test_what_became_of_a_card_is_told_of_each_player(seen: TestClient) -> None:
    """As the cards of the examples have it: Betony did not start, Bryony withdrew, Birch's card is not in."""
    text = plain(seen.get("/event").text)
    entries = text[text.index("Handicap Index") :]
    for player, state in (("Betony", "did not start"), ("Bryony", "withdrew"), ("Birch", "still out"), ("Alder", "in")):
        assert re.search(rf"{player} [A-Za-z]+ [a-z]+ [+\d.]+ \d+, \d\d:\d\d {state}\b", entries), player


def test_results_are_those_of_the_command_place_by_place(seen: TestClient, folder: Path) -> None:
    import json

    done = marram("event", "results", "--store", str(folder / STORE), "--json")
    assert done.returncode == 0, done.stderr
    places = json.loads(done.stdout)["places"]
    text = seen.get("/event/results").text
    rows = re.findall(r'<td class="num place[^"]*">(\d+)</td><th scope="row">([^<]+)<', text)
    shown = {(int(place), unescape(player)) for place, player in rows}
    told = {(entry["place"], entry["player"]) for entry in places if entry["place"] is not None}
    assert told
    assert told <= shown


def test_the_log_holds_every_row_that_was_written(seen: TestClient, folder: Path) -> None:
    import json

    done = marram("event", "history", "--store", str(folder / STORE), "--json")
    assert done.returncode == 0, done.stderr
    rows = json.loads(done.stdout)["rows"]
    numbers = [int(number) for number in re.findall(r'<tr[^>]*><td class="num">(\d+)</td>', seen.get("/event/log").text)]
    assert numbers == sorted((row["number"] for row in rows), reverse=True)
    assert "Rowan" in seen.get("/event/log").text
    assert "round 1" not in seen.get("/event/log").text  # of one round nobody says which
    assert "Cowslip" in seen.get("/event/log").text


def test_looking_writes_nothing(seen: TestClient, folder: Path) -> None:
    before = (folder / STORE).read_bytes()
    for path in ("/event", "/event/results", "/event/log"):
        assert seen.get(path).status_code == 200
    assert (folder / STORE).read_bytes() == before


def test_another_event_is_named_and_what_cannot_be_read_is_said(seen: TestClient, tmp_path: Path) -> None:
    answer = seen.get("/event?competition=another")
    assert answer.status_code == 422
    assert "There is no event" in unescape(answer.text)
    (tmp_path / STORE).write_bytes(b"no store at all")
    broken = visitor(tmp_path).get("/event")
    assert broken.status_code == 422
    assert "Traceback" not in broken.text


def test_every_kind_of_row_and_state_of_a_card_has_its_word() -> None:
    table = interface_words().table
    assert [kind.value for kind in Kind if f"row.{kind.value}" not in table] == []
    assert [status.value for status in CardStatus if f"card.{status.value}" not in table] == []
