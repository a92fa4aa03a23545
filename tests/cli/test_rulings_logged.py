"""`marram rule` and `marram act` log the ruling that they give, and what else the day brings: two balls, markers, other groups."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_day_goes_wrong import placed
from tests.cli.test_event_command import Day
from tests.support import invented_field as field
from tests.support.pdf_reading import words_of
from tests.support.running import Run

ROOT = Path(__file__).parents[2]
POND = (str(ROOT / "examples/incidents/pond-7.toml"), "--course", str(ROOT / "examples/courses/thimble-moor.geojson"))


@pytest.fixture
def day(called: Run, tmp_path: Path) -> Day:
    day = Day(called, tmp_path).started("stroke-play")
    day.run("cards", day.file("cards.csv", field.cards_text()))
    return day


def logged(day: Day, *words: str, code: int = 0) -> str:
    ended, out, err = day.called(*words, "--store", day.store, "--who", "Rowan")
    assert ended == code, out + err
    return out if code == 0 else err


def test_an_act_that_is_ruled_on_is_charged_once_and_moves_with_what_supersedes_it(day: Day) -> None:
    before = placed(day, "Aspen")
    settled = ("--fact", "not-put-right-in-time=false", "--fact", "moving-in-water=false")
    said = logged(day, "act", "wrong-ball", "--player", "Aspen", "--hole", "5", *settled)
    assert said.rstrip().endswith("Logged as R2 of Aspen in thimble-moor-stroke-play: wrong-ball, hole 5.")
    after = placed(day, "Aspen")
    # a wrong ball costs the general penalty, two strokes (Rules of Golf 2023, Rule 6.3c(1))
    assert after["score"] == before["score"] + 2
    assert [(one["hole"], one["strokes"], one["ruling"]) for one in after["penalties"]] == [(5, 2, "R2")]
    told = json.loads(
        logged(day, "act", "wrong-ball", "--player", "Aspen", "--hole", "5", *settled, "--supersede", "R2", "--reason", "x", "--json")
    )
    assert told["logged"]["ruling"] == "R2" and placed(day, "Aspen")["score"] == before["score"] + 2
    logged(day, "act", "wrong-ball", "--player", "Aspen", "--hole", "5", *settled, "--supersede", "R2", "--reason", "counted", "--in-score")
    assert placed(day, "Aspen")["score"] == before["score"], "the player had counted them"


def test_an_act_that_turns_on_facts_is_not_logged(day: Day) -> None:
    rows = day.rows()
    told = logged(day, "act", "wrong-ball", "--player", "Aspen", "--hole", "5", code=3)
    assert "not-put-right-in-time, moving-in-water" in told and "Nothing was logged" in told
    other = logged(day, "act", "wrong-ball", "--player", "Aspen", "--hole", "5", "--book", "2016", code=3)
    assert "played under 2023, and 2016 was asked" in other
    assert "--event goes with --player" in logged(day, "act", "wrong-ball", "--event", "thimble-moor-stroke-play", code=2)
    assert "Nobody has not entered" in logged(day, "act", "too-many-clubs", "--player", "Nobody", "--hole", "5", code=3)
    assert "one act at a time" in logged(
        day, "act", "too-many-clubs", "--also", "late-start-within-5", "--player", "Aspen", "--hole", "5", code=3
    )
    assert day.rows() == rows


def test_the_option_that_was_taken_is_logged_and_the_history_card_place_and_print_agree(day: Day) -> None:
    before = placed(day, "Aspen")
    rows = day.rows()
    assert "not said which option" in logged(day, "rule", *POND, "--player", "Aspen", code=3)
    assert "There is no option 'K'" in logged(day, "rule", *POND, "--player", "Aspen", "--took", "K", code=3)
    assert day.rows() == rows
    said = logged(day, "rule", *POND, "--player", "Aspen", "--took", "b")
    assert said.rstrip().endswith("Logged as R2 of Aspen in thimble-moor-stroke-play: 1 penalty stroke, hole 7.")
    found = placed(day, "Aspen")
    assert found["score"] == before["score"] + 1
    day.run("log", "Aspen", "--supersede", "R2", "--hole", "7", "--says", "the ball was found outside", "--reason", "no relief was taken")
    assert placed(day, "Aspen")["score"] == before["score"] and placed(day, "Aspen")["place"] == before["place"]
    assert placed(day, "Aspen")["penalties"] == []
    day.run("print", "results", "-o", day.folder / "results.pdf", who=False)
    assert "ruling R2" not in words_of((day.folder / "results.pdf").read_bytes())
    told = [row for row in day.ask("history", "--player", "Aspen")["rows"] if row["kind"] == "ruling"]
    assert [(row["key"], row["reason"]) for row in told] == [("R2", ""), ("R2", "no relief was taken")]
    assert told[0]["superseded_by"] == told[1]["number"]


def test_an_option_that_waits_for_facts_is_not_logged(day: Day) -> None:
    rows = day.rows()
    path = (str(ROOT / "examples/incidents/path-15.toml"), *POND[1:])
    assert "still waits for facts" in logged(day, "rule", *path, "--player", "Aspen", "--took", "A", code=3)
    assert day.rows() == rows


def strokes_on(place: dict[str, Any], hole: int) -> int:
    (found,) = [one for one in place["rounds"][0]["holes"] if one["hole"] == hole]
    return int(found["strokes"])


def test_both_scores_are_kept_until_the_committee_decides(day: Day) -> None:
    day.run("withdraw", field.NOT_IN, "--as", "no-return", "--reason", "card lost")
    said = day.run("two-balls", "Aspen", "--hole", "7", "--first", "4", "--second", "6", "--chosen", "second")
    line = "Aspen, round 1, hole 7: 4 with the ball played first and 6 with the second ball, the second ball chosen; "
    assert said.strip() == f"{line}the Committee has still to decide which counts."
    assert strokes_on(placed(day, "Aspen"), 7) == 6, "until then the ball that was chosen"
    assert day.ask("results")["undecided"] == [said.strip()] and said.strip() in day.run("results", who=False)
    assert "still to decide" in day.run("close", "--as", "final", code=3)
    again = ("two-balls", "Aspen", "--hole", "7", "--chosen", "second", "--first", "4 allowed")
    assert "kept already" in day.run(*again, "--second", "6 not-allowed+2", code=3)
    assert "and of the other not" in day.run(*again, "--second", "6", "--reason", "x", code=3)
    assert "tells nothing of a ball" in day.run(*again, "--second", "six", "--reason", "x", code=3)
    day.run(*again, "--second", "6 not-allowed+2", "--reason", "the second was dropped in a wrong place")
    found = placed(day, "Aspen")
    # the chosen ball was not played as the Rules allow and the other was, so that one counts (Rules of Golf 2023, Rule 20.1c(3))
    assert strokes_on(found, 7) == 4 and [one["hole"] for one in found["decisions"]] == [7]
    day.run("close", "--as", "final")
    assert day.ask("results")["undecided"] == []


def test_two_balls_that_the_card_tells_too_are_decided_once(day: Day) -> None:
    lines = field.cards_text().splitlines()
    line = next(line for line in lines if line.startswith("Aspen,"))
    own = f'{lines[0]},two_balls\n{line},"7: 5 allowed / 9 allowed, chosen second"\n'
    day.run("cards", day.file("own.csv", own), "--reason", "two balls on the card")
    assert strokes_on(placed(day, "Aspen"), 7) == 9
    day.run("two-balls", "Aspen", "--hole", "7", "--first", "5 allowed", "--second", "9 allowed", "--chosen", "first")
    found = placed(day, "Aspen")
    assert strokes_on(found, 7) == 5 and len(found["decisions"]) == 1


def test_after_closing_a_ground_that_disqualifies_lets_nothing_else_be_written(day: Day) -> None:
    day.run("withdraw", field.NOT_IN, "--as", "no-return", "--reason", "card lost")
    day.run("close")
    rows = day.rows()
    late = ("--after-closing", "knew-of-disqualification")
    assert "nothing else changes" in day.run("log", "Aspen", "--hole", "3", "--strokes", "2", *late, code=3)
    assert "nothing else changes" in day.run("withdraw", "Aspen", "--as", "withdrawn", "--reason", "x", *late, code=3)
    assert day.rows() == rows
    day.run("log", "Aspen", "--act", "agree-to-waive-rules", "--fact", "they-knew-the-rule", "--after-closing", "agreed-to-ignore-a-rule")
    assert placed(day, "Aspen")["status"] == "disqualified"
    (told,) = [row for row in day.ask("history", "--player", "Aspen")["rows"] if row["kind"] == "ruling"]
    assert told["reason"].startswith("disqualified after closing, agreed to ignore a rule (Rule 20.2d; 20.2e; 3.3b(3)")


def test_a_marker_who_is_missing_keeps_results_open(day: Day) -> None:
    day.run("withdraw", field.NOT_IN, "--as", "no-return", "--reason", "card lost")
    assert "not said why" in day.run("marker", "Aspen", code=3)
    said = day.run("marker", "Aspen", "--from-hole", "11", "--reason", "marker withdrew on 10")
    assert said.strip() == ("Aspen has no marker from hole 11 on of round 1: marker withdrew on 10. The Committee has still to name one.")
    assert "has no marker" in day.run("close", "--as", "final", code=3)
    assert "cannot mark the own card" in day.run("marker", "Aspen", "--by", "aspen", "--reason", "x", code=3)
    day.run("marker", "Aspen", "--by", "Alder", "--from-hole", "11", "--reason", "joined from the next group")
    day.run("close", "--as", "final")
    assert [row["kind"] for row in day.ask("history", "--player", "Aspen")["rows"]].count("marker") == 2


def groups_of(text: str) -> dict[int, tuple[str, int, list[str]]]:
    return {group["number"]: (group["time"], group["hole"], group["players"]) for group in json.loads(text)["groups"]}


def test_a_player_changes_groups_and_one_who_entered_late_starts(called: Run, tmp_path: Path) -> None:
    day = Day(called, tmp_path).started("stroke-play")
    listed = groups_of(day.run("delay", "1", "--from", "10:00", "--reason", "x", "--json"))
    (was, players), (to, joined) = [(number, list(listed[number][2])) for number in (1, 3)]
    moved = groups_of(day.run("regroup", players[0], "--to", str(to), "--reason", "no marker", "--json"))
    assert moved[was][2] == players[1:] and moved[to][2] == [*joined, players[0]]
    assert "has 4 players" in day.run("regroup", players[1], "--to", str(to), "--reason", "x", code=3)
    assert "There is no group 99" in day.run("regroup", players[1], "--to", "99", "--reason", "x", code=3)
    assert f"plays in group {to} already" in day.run("regroup", players[0], "--to", str(to), "--reason", "x", code=3)
    assert "Give one of" in day.run("regroup", players[0], "--reason", "x", code=2)
    day.run("enter", day.file("late.csv", "player,handicap_index,tee\nYarrow,3.0,white\n"))
    assert "on no starting list" in day.run("regroup", "Yarrow", "--off", "--reason", "x", code=3)
    late = groups_of(day.run("regroup", "yarrow", "--at", "11:00", "--hole", "10", "--reason", "late entry", "--json"))
    assert late[max(late)] == ("11:00", 10, ["Yarrow"])
    day.run("regroup", players[1], "--off", "--reason", "ill")
    assert f"entered after the draw: {players[1]}" in day.run("times", "--reason", "given anew", code=3)
    day.run("withdraw", players[1], "--reason", "ill")
    assert groups_of(day.run("regroup", players[2], "--at", "11:10", "--reason", "alone", "--json"))[max(late) + 1][2] == [players[2]]
    day.run("times", "--reason", "given anew")
    day.run("print", "starting-list", "-o", day.folder / "list.pdf", who=False)
    words = words_of((day.folder / "list.pdf").read_bytes())
    assert "Yarrow" in words and players[1] not in words
