"""A ball that moves: the newest place wins, answers bear its number, and a slow ruling stalls nobody."""

from __future__ import annotations

import asyncio
import json
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

import pytest
from starlette.testclient import TestClient

from marram.desk.pages.page import Desk, Page
from marram.desk.rulings.desk_jobs import do_job
from marram.desk.rulings.ruling_process import DeskAsked, RulingProcesses
from marram.desk.server.desk_app import make_app
from marram.desk.server.guard import Door
from tests.desk.conftest import AT, EXAMPLES, SOCKETS_AT

T = TypeVar("T")
BOUNDS = (-394.0, 110.0, -380.0, 119.0)
QUERY = "course=thimble-moor&hole=7&situation=penalty-area&x={x}&y=117.5&longest=45&crossed_at.x=-388.38&crossed_at.y=113.5"


def message(seq: int, x_m: float) -> str:
    return json.dumps({"seq": seq, "query": QUERY.format(x=x_m), "bounds": BOUNDS})


def test_marks_bear_the_number_of_their_place_and_no_word(client: TestClient) -> None:
    with client.websocket_connect(f"{SOCKETS_AT}/moving", headers={"origin": AT}) as socket:
        socket.send_text(message(7, -383.38))
        told = json.loads(socket.receive_text())
    assert told["seq"] == 7
    assert 'class="relief"' in told["under"]
    assert 'class="ball"' in told["over"]
    assert "<text" not in told["under"] + told["over"]


def test_the_marks_of_a_moving_ball_are_those_of_the_page_at_rest(examples_desk: Desk) -> None:
    page = do_job(examples_desk, "ruling", QUERY.format(x=-383.38)).text
    bounds = [float(at) for at in page.partition('data-bounds="')[2].partition('"')[0].split()]
    told = json.loads(do_job(examples_desk, "moving", json.dumps({"seq": 1, "query": QUERY.format(x=-383.38), "bounds": bounds})).text)
    relief = told["under"].partition('class="relief"')[2].partition(' d="')[2].partition('"')[0]
    assert len(relief) > 100
    numbers = [float(number) for number in relief.replace("M", " ").replace("L", " ").replace("Z", " ").split()]
    at_rest = page.partition('class="relief"')[2].partition(' d="')[2].partition('"')[0]
    shown = [float(number) for number in at_rest.replace("M", " ").replace("L", " ").replace("Z", " ").split()]
    assert numbers == pytest.approx(shown, abs=0.11)  # written to a tenth: the rounded bounds may turn one


def test_what_cannot_be_ruled_while_it_moves_is_an_error_and_the_socket_stays(client: TestClient) -> None:
    with client.websocket_connect(f"{SOCKETS_AT}/moving", headers={"origin": AT}) as socket:
        for text in ("nonsense", message(1, 9e9), json.dumps({"seq": 2, "query": QUERY.format(x=-383), "bounds": [0, 0, 0, 0]})):
            socket.send_text(text)
            assert json.loads(socket.receive_text())["schema"] == "marram.error/1"
        socket.send_text(message(3, -383.38))
        assert json.loads(socket.receive_text())["seq"] == 3


@pytest.fixture(scope="module")
def processes() -> Iterator[RulingProcesses]:
    made = RulingProcesses(DeskAsked(folder=EXAMPLES))
    asyncio.run(made.warm())
    yield made
    made.close()


class _Slow(RulingProcesses):
    """Takes its time for each place, and keeps what it was asked."""

    def __init__(self) -> None:
        self.asked: list[str] = []

    async def do(self, name: str, text: str) -> Page:
        self.asked.append(text)
        await asyncio.sleep(0.3)
        return Page(text=text)

    def close(self) -> None:
        """Nothing was started."""


def test_the_newest_place_wins_and_nothing_piles_up(door: Door) -> None:
    slow = _Slow()
    client = TestClient(make_app(slow, door), base_url=AT, headers={"origin": AT, "cookie": f"{door.cookie}={door.held}"})
    with client.websocket_connect(f"{SOCKETS_AT}/moving", headers={"origin": AT}) as socket:
        socket.send_text("first")
        time.sleep(0.1)
        for number in range(20):
            socket.send_text(f"place {number}")
        assert [socket.receive_text(), socket.receive_text()] == ["first", "place 19"]
    assert slow.asked == ["first", "place 19"]


def wait_for(sign: Path) -> bool:
    """Keeps a process busy until a file is there, a minute at most."""
    for _ in range(600):
        if sign.exists():
            return True
        time.sleep(0.1)
    return False


def test_a_slow_ruling_stalls_nobody(processes: RulingProcesses, tmp_path: Path) -> None:
    async def both() -> None:
        slow = asyncio.create_task(processes.run(wait_for, tmp_path / "sign"))
        await asyncio.sleep(0.2)
        for _ in range(3):
            assert (await processes.do("ask", "words=bunker")).status == 200
        assert not slow.done()
        (tmp_path / "sign").touch()
        assert await slow

    asyncio.run(both())


def test_a_process_that_dies_is_made_anew(processes: RulingProcesses) -> None:
    import os

    async def dying() -> int:
        with pytest.raises(Exception, match="terminated"):
            await processes.run(os._exit, 1)
        return (await processes.do("ask", "words=bunker")).status

    assert asyncio.run(dying()) == 200


def test_a_folder_that_is_not_there_is_told_before_anything_starts(tmp_path: Path) -> None:
    from tests.support.running import marram

    done = marram("desk", "--folder", str(tmp_path / "nowhere"), "--no-open")
    assert done.returncode == 2
    assert "There is no such folder" in done.stderr
    assert str(tmp_path) not in done.stderr


def test_the_server_loads_nothing_that_rules() -> None:
    told = subprocess.run(
        [sys.executable, "-c", "import sys, marram.desk.server.desk_app; print(*sys.modules)"], capture_output=True, text=True, check=True
    ).stdout.split()
    assert "marram.desk.server.desk_app" in told
    assert not {"shapely", "numpy", "marram.rulings", "marram.course", "marram.sheets"} & set(told)


def test_the_first_page_waits_for_no_other_process() -> None:
    """The other processes begin when it was asked, or when nobody asked for a while."""

    async def begun(*, is_asked: bool) -> list[str]:
        done: list[str] = []

        class Noted(_Slow):
            def __init__(self) -> None:
                super().__init__()
                RulingProcesses.__init__(self, DeskAsked(folder=EXAMPLES))

            async def run(self, work: Callable[..., T], *given: object, takes_long: bool = False) -> T:
                done.append(work.__name__)
                return work.__name__  # type: ignore[return-value]

        noted = Noted()
        warming = asyncio.create_task(noted.warm(0.3))
        await asyncio.sleep(0.05)
        assert done == []
        if is_asked:
            await RulingProcesses.do(noted, "home", "")
            await asyncio.sleep(0.05)
        else:
            await asyncio.sleep(0.4)
        await warming
        RulingProcesses.close(noted)
        return done

    assert asyncio.run(begun(is_asked=True)) == ["_job", "_warmed", "_warmed"]
    assert asyncio.run(begun(is_asked=False)) == ["_warmed", "_warmed"]


@pytest.mark.parametrize("named", [("--course", "nowhere"), ("--book", "1066")])
def test_what_cannot_be_opened_is_told_before_the_address(named: tuple[str, str]) -> None:
    from tests.support.running import marram

    done = marram("desk", "--folder", str(EXAMPLES), "--no-open", "--port", "0", *named)
    assert done.returncode == 2
    assert named[1] in done.stderr
    assert "http" not in done.stdout


CHOICE = "course=thimble-moor&hole=7&situation=unplayable&x=-376&y=80&longest=45&previous_stroke.x=-362&previous_stroke.y=-20"


def test_a_moving_ball_is_drawn_for_the_option_that_was_chosen(examples_desk: Desk) -> None:
    def lines(option: str) -> str:
        bounds = (-382.0, 75.0, -370.0, 83.0)
        asked = json.dumps({"seq": 1, "query": f"{CHOICE}&option={option}", "bounds": bounds})
        return str(json.loads(do_job(examples_desk, "moving", asked).text)["under"])

    unasked, lateral = lines("gone"), lines("unplayable-lateral")
    back = lines("unplayable-stroke-and-distance")
    assert unasked == lateral
    assert back != lateral
    assert lateral.count('class="relief"') == 1


def test_small_drawings_of_the_books_are_about_the_option_that_was_chosen(examples_desk: Desk) -> None:
    def small(option: str) -> str:
        page = do_job(examples_desk, "ruling", f"{CHOICE}&book=2023&book=2016&option={option}").text
        return page.partition('class="small-map"')[2].partition("</td>")[0]

    assert small("gone") == small("unplayable-lateral")
    assert small("unplayable-stroke-and-distance") not in {"", small("gone")}
