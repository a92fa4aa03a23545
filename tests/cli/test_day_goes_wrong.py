"""`marram event log`, `withdraw`, `delay` and `close`: the day as it goes, and what may still change."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_event_command import Day
from tests.support import invented_field as field
from tests.support.pdf_reading import words_of
from tests.support.running import Run


@pytest.fixture
def day(called: Run, tmp_path: Path) -> Day:
    day = Day(called, tmp_path).started("stroke-play")
    day.run("cards", day.file("cards.csv", field.cards_text()))
    return day


def placed(day: Day, player: str) -> dict[str, Any]:
    (found,) = [place for place in day.ask("results")["places"] if place["player"] == player]
    return dict(found)


def test_a_ruling_reaches_the_card_once_and_moves_with_what_supersedes_it(day: Day) -> None:
    before = placed(day, "Aspen")
    said = day.run("log", "Aspen", "--hole", "5", "--strokes", "2", "--says", "played from a wrong place")
    assert said == "R2: Aspen, 2, hole 5\n", "the card of another player holds R1"
    after = placed(day, "Aspen")
    assert after["score"] == before["score"] + 2
    assert [(one["hole"], one["strokes"], one["ruling"]) for one in after["penalties"]] == [(5, 2, "R2")]
    assert "R2 stands already" in day.run("log", "Aspen", "--hole", "5", "--strokes", "1", "--supersede", "R2", code=3)
    day.run("log", "Aspen", "--hole", "5", "--strokes", "1", "--supersede", "R2", "--reason", "one stroke, not two")
    assert placed(day, "Aspen")["score"] == before["score"] + 1
    day.run("print", "results", "-o", day.folder / "results.pdf", who=False)
    assert (
        "hole 5: one penalty stroke, ruling R2" in words_of((day.folder / "results.pdf").read_bytes()).split("Aspen")[1].split("Comfrey")[0]
    )
    day.run("log", "Aspen", "--strike", "R2", "--reason", "no breach after all")
    assert placed(day, "Aspen") == before
    rows = [row for row in day.ask("history", "--player", "Aspen")["rows"] if row["kind"] == "ruling"]
    assert [(row["key"], row["reason"]) for row in rows] == [("R2", ""), ("R2", "one stroke, not two"), ("R2", "no breach after all")]
    assert rows[0]["superseded_by"] == rows[1]["number"] and rows[2]["superseded_by"] is None


def test_a_ruling_that_the_card_tells_too_is_charged_once(day: Day) -> None:
    before = placed(day, field.PENALISED)
    assert [one["ruling"] for one in before["penalties"]] == ["R1"]
    lines = field.cards_text().splitlines()
    line = next(line for line in lines if line.startswith("Aspen,"))
    day.run("log", "Aspen", "--hole", "3", "--act", "too-many-clubs")
    own = day.file("own.csv", f"{lines[0]}\n{line.rstrip(',')},3: 1 @R7,\n")
    day.run("cards", own, "--reason", "a penalty of another ruling")
    assert day.run("log", "Alder", "--hole", "1", "--strokes", "1").startswith("R8: "), "no name is given twice"
    told = day.file("one.csv", f"{lines[0]}\n{line.rstrip(',')},3: too-many-clubs @R2,\n")
    day.run("cards", told, "--reason", "the referee wrote it on the card")
    assert [one["ruling"] for one in placed(day, "Aspen")["penalties"]] == ["R2"]


def test_a_ruling_waits_for_a_card_that_is_not_in(day: Day) -> None:
    day.run("log", field.NOT_IN, "--hole", "1", "--strokes", "2")
    assert field.NOT_IN not in {place["player"] for place in day.ask("results")["places"]}
    line = next(line for line in field.cards_text().splitlines() if line.startswith("Aspen,")).replace("Aspen", field.NOT_IN)
    day.run("cards", day.file("late.csv", field.cards_text().splitlines()[0] + "\n" + line + "\n"))
    assert [one["ruling"] for one in placed(day, field.NOT_IN)["penalties"]] == ["R2"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("Nobody", "--hole", "1", "--strokes", "1"), "Nobody has not entered"),
        (("Alder", "--hole", "1", "--act", "no-such-act"), "no-such-act"),
        (("Alder", "--supersede", "R9", "--hole", "1", "--strokes", "1", "--reason", "x"), "There is no ruling R9"),
        (("Alder", "--strike", "R9", "--reason", "x"), "There is no ruling R9"),
    ],
)
def test_a_ruling_that_cannot_be_charged_is_not_written(day: Day, words: tuple[str, ...], told: str) -> None:
    rows = day.rows()
    code, out, err = day.called("event", "log", *words, "--store", day.store, "--who", "Rowan")
    assert code in {2, 3} and told in out + err
    assert day.rows() == rows


def test_three_players_withdraw_and_one_does_not_start(day: Day) -> None:
    for player, became, status in (
        ("Aspen", "withdrawn", "withdrawn"),
        ("Alder", "disqualified", "disqualified"),
        ("Aster", "no-return", "not-returned"),
        (field.NOT_IN, "no-show", "did-not-start"),
    ):
        day.run("withdraw", player, "--as", became, "--reason", "Rule 5.3")
        found = placed(day, player)
        assert (found["place"], found["status"]) == (None, status)
        assert "Rule 5.3" in found["score_says"]
    results = day.ask("results")
    assert results["not_in"] == [] and set(results["not_started"]) == {field.NOT_STARTED, field.NOT_IN}
    assert "Aspen is out: withdrawn" in day.run("log", "Aspen", "--hole", "1", "--strokes", "1", code=3)
    day.run("withdraw", "Aspen", "--as", "back", "--reason", "another player was meant")
    assert placed(day, "Aspen")["place"] is not None
    assert "not said why" in day.run("withdraw", "Aspen", code=3)


def test_times_are_delayed_from_a_time_on(day: Day) -> None:
    # 12 groups from each tee: 08:00 to 08:50 stay, 09:10 to 10:00 become 09:55 to 10:45, and the empty 09:00 becomes 09:45
    now = json.loads(day.run("delay", "45", "--from", "09:00", "--reason", "fog", "--json"))
    assert [group["time"] for group in now["groups"] if group["hole"] == 1] == [
        *(f"08:{minute:02d}" for minute in range(0, 60, 10)),
        *("09:55", "10:05", "10:15", "10:25", "10:35", "10:45"),
    ]
    assert {empty["time"] for empty in now["empty"]} == {"09:45"}
    assert "No group starts at 10:50 or later" in day.run("delay", "5", "--from", "10:50", "--reason", "fog", code=3)
    assert "say why" in day.run("delay", "5", code=3)
    assert "is no time of day" in day.run("delay", "5", "--from", "late", "--reason", "fog", code=3)
    assert day.ask("history")["rows"][-1]["kind"] == "times"
    day.run("delay", "180", "--from", "10:45", "--reason", "fog")
    assert "another day" in day.run("delay", "720", "--from", "13:45", "--reason", "fog", code=3)


def test_the_results_are_final_and_closed_and_what_may_change_then(day: Day) -> None:
    assert "1 card is not in: Birch" in day.run("close", code=3)
    day.run("withdraw", field.NOT_IN, "--as", "no-return", "--reason", "card lost")
    assert day.ask("results")["state"] == "provisional"
    day.run("close", "--as", "final")
    assert day.ask("results")["state"] == "final"
    day.run("log", "Aspen", "--hole", "5", "--strokes", "2")
    day.run("close")
    assert "closed already" in day.run("close", code=3)
    rows = day.rows()
    for refused in (
        ("log", "Aspen", "--hole", "6", "--strokes", "2"),
        ("withdraw", "Alder", "--reason", "ill"),
        ("enter", day.file("more.csv", "player,handicap_index,tee\nYarrow,3.0,white\n")),
        ("draw", "--seed", "9", "--reason", "x"),
    ):
        told = day.run(*refused, code=3)
        assert "The event is closed" in told and "--after-closing" in told
    assert day.rows() == rows
    day.run("withdraw", "Alder", "--as", "disqualified", "--reason", "knew of it, 20.2e", "--after-closing", "knew-of-disqualification")
    day.run("log", "Aspen", "--strike", "R2", "--reason", "wrong player", "--after-closing", "committee-mistake")
    assert placed(day, "Alder")["status"] == "disqualified" and placed(day, "Aspen")["penalties"] == []
    assert "closed already" in day.run("close", "--as", "provisional", code=3)
    day.run("close", "--as", "provisional", "--reason", "closed by mistake")
    assert day.ask("results")["state"] == "provisional"


def test_play_is_suspended_and_goes_on_and_groups_that_wait_start_later(day: Day) -> None:
    said = day.run("suspend", "--signal", "immediate", "--at", "09:10", "--reason", "lightning")
    line = "Play is suspended since 09:10: lightning. The signal was immediate: stop at once."
    assert said.strip() == line
    for paper in ("starting-list", "results"):
        day.run("print", paper, "-o", day.folder / f"{paper}.pdf", who=False)
        assert line in words_of((day.folder / f"{paper}.pdf").read_bytes())
    assert day.ask("results")["suspended"] == line and line in day.run("results", who=False)
    assert "suspended already" in day.run("suspend", "--signal", "normal", "--at", "09:20", "--reason", "x", code=3)
    assert "the clock runs backwards" in day.run("resume", "--at", "09:10", code=3)
    day.run("resume", "--at", "10:00")
    # stopped for 50 minutes: the groups of 08:00 to 08:50 had started, those of 09:10 to 10:00 start at 10:00 to 10:50
    times = [group["start_min"] for group in json.loads(last_times(day))["groups"] if group["hole"] == 1]
    assert times == [*range(480, 540, 10), *range(600, 660, 10)]
    assert day.ask("history")["rows"][-1]["reason"] == "play was suspended from 09:10 to 10:00"
    assert "Play is not suspended" in day.run("resume", "--at", "11:00", code=3)
    day.run("print", "results", "-o", day.folder / "results.pdf", who=False)
    assert "suspended" not in words_of((day.folder / "results.pdf").read_bytes())
    day.run("suspend", "--signal", "normal", "--at", "12:00", "--reason", "dusk")
    day.run("resume", "--at", "13:00")


def last_times(day: Day) -> str:
    rows = [row for row in day.ask("history")["rows"] if row["kind"] == "times"]
    return str(rows[-1]["says"])
