"""`marram event` and `marram store`: 72 invented players from a spreadsheet to results, and what is refused on the way."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from tests.support import invented_field as field
from tests.support.running import Run

LISTED = ("First", "Second")


class Day:
    """An event in a folder of its own."""

    def __init__(self, called: Run, folder: Path) -> None:
        self.called = called
        self.folder = folder
        self.store = str(folder / "store.sqlite")

    def run(self, command: str, *words: str | Path, code: int = 0, who: bool = True) -> str:
        signed = ["--who", "Rowan"] if who else []
        ended, out, err = self.called("event", command, *map(str, words), "--store", self.store, *signed)
        assert ended == code, out + err
        return out if code == 0 else err

    def ask(self, command: str, *words: str | Path) -> dict[str, Any]:
        who = command in {"new", "enter", "draw", "times", "cards"}
        found: dict[str, Any] = json.loads(self.run(command, *words, "--json", who=who))
        return found

    def refused(self, command: str, *words: str | Path, code: int = 2) -> str:
        return self.run(command, *words, code=code, who=command in {"new", "enter", "draw", "times", "cards"})

    def file(self, name: str, text: str) -> Path:
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        return path

    def rows(self) -> int:
        ended, out, err = self.called("store", "verify", "--store", self.store, "--json")
        assert ended == 0, out + err
        return sum(event["rows"] for event in json.loads(out)["events"])

    def begun(self, form: str = "stableford", **more: str) -> Day:
        self.run("new", self.file("terms.toml", field.terms_text(form, **more)))
        return self

    def entered(self, form: str = "stableford") -> Day:
        self.begun(form).run("enter", self.file("entries.csv", field.entries_text()))
        return self

    def started(self, form: str = "stableford") -> Day:
        self.entered(form).run("draw", "--seed", "7")
        self.run("times")
        return self


@pytest.fixture
def day(called: Run, tmp_path: Path) -> Day:
    return Day(called, tmp_path)


def starts_of(times: dict[str, Any]) -> dict[str, int]:
    return {player: group["hole"] for group in times["groups"] for player in group["players"]}


@pytest.mark.parametrize("form", sorted(field.FORMS))
def test_the_results_are_those_of_the_same_cards_scored_by_themselves(called: Run, day: Day, form: str) -> None:
    day.entered(form).run("draw", "--seed", "7")
    starts = starts_of(day.ask("times"))
    taken = day.ask("cards", day.file("cards.csv", field.cards_text()))
    assert (taken["added"], taken["still_out"]) == (71, [{"player": field.NOT_IN, "round": 1}])
    in_full = day.file("in-full.csv", field.cards_text(in_full=True, starts=starts))
    code, out, err = called("score", str(in_full), "--terms", str(day.folder / "terms.toml"), "--book", "2023", "--json")
    assert code == 0, err
    found = day.ask("results")
    assert found["books"] == json.loads(out)["books"]
    assert found["places"] == found["books"][0]["places"]
    assert [(one["division"], one["scores"]) for one in found["lists"]] == [
        ("", "net"),
        ("", "gross"),
        *((name, scores) for name in LISTED for scores in ("net", "gross")),
    ]


def test_a_blank_hole_a_card_not_in_and_a_player_who_did_not_start_are_three_things(day: Day) -> None:
    day.started("stroke-play").run("cards", day.file("cards.csv", field.cards_text()))
    found = day.ask("results")
    by_name = {place["player"]: place for place in found["places"]}
    assert found["entered"] == 72
    assert found["not_in"] == [{"player": field.NOT_IN, "round": 1}] and field.NOT_IN not in by_name
    assert found["not_started"] == [field.NOT_STARTED] and by_name[field.NOT_STARTED]["status"] == "did-not-start"
    blank = by_name[field.BLANK]
    assert blank["place"] is None and "hole 5" in blank["score_says"] and blank["status"] not in {"did-not-start", "withdrawn"}
    assert by_name[field.WITHDRAWN]["status"] == "withdrawn"
    said = {(one["division"], one["scores"]): one["places"][0]["score_says"].split()[0] for one in found["lists"]}
    assert {scores: said[division, scores] for division, scores in said} == {"net": "net", "gross": "gross"}
    text = day.run("results", who=False)
    assert f"Card not in: {field.NOT_IN}" in text and f"Did not start: {field.NOT_STARTED}" in text


def test_divisions_hold_those_whom_the_terms_put_there_with_the_scores_of_the_whole(day: Day) -> None:
    day.started().run("cards", day.file("cards.csv", field.cards_text()))
    found = {(one["division"], one["scores"]): one["places"] for one in day.ask("results")["lists"]}
    index = {name: -1.2 if text.startswith("+") else float(text) for name, text in field.indexes().items()}
    whole = {place["player"]: place["score"] for place in found["", "net"]}
    for name in LISTED:
        for scores in ("net", "gross"):
            players = {place["player"] for place in found[name, scores]}
            assert players == {player for player in whole if (index[player] <= 14.4) is (name == "First")}
        placed = [place for place in found[name, "net"] if place["place"] is not None]
        assert {place["player"]: place["score"] for place in placed} == {place["player"]: whole[place["player"]] for place in placed}
        assert placed[0]["place"] == 1
        assert [place["score"] for place in placed] == sorted((place["score"] for place in placed), reverse=True)


def test_a_score_does_not_hang_on_which_cards_are_in(day: Day) -> None:
    # yellow has par 73 and white 72, so whoever plays yellow receives a stroke more where totals are compared (Rule 6.2b)
    text = field.terms_text("stroke-play", more="allowance_pct = 100\n")
    white, yellow = text.split('name = "yellow"')
    day.run("new", day.file("terms.toml", f'{white}name = "yellow"{yellow.replace("par = [4,", "par = [5,")}'))
    day.run("enter", day.file("entries.csv", "player,playing_handicap,tee,division\nAlder,10,white,First\nAspen,10,yellow,First\n"))
    heading, fours = f"player,{','.join(str(hole) for hole in range(1, 19))}", ",".join(["5"] * 18)
    scores = []
    for player in ("Aspen", "Alder"):
        day.run("cards", day.file(f"{player}.csv", f"{heading}\n{player},{fours}\n"))
        scores.append({place["player"]: place["score"] for place in day.ask("results")["places"]})
    assert scores == [{"Aspen": 79}, {"Aspen": 79, "Alder": 80}]


def test_workbooks_are_taken_as_tables_are(day: Day) -> None:
    day.begun()
    for name, text in (("entries", field.entries_text()), ("cards", field.cards_text())):
        book = Workbook()
        assert book.active is not None
        for line in text.splitlines():
            book.active.append([int(cell) if cell.isdigit() else cell or None for cell in line.split(",")])
        book.save(day.folder / f"{name}.xlsx")
    assert day.ask("enter", day.folder / "entries.xlsx")["added"] == 72
    assert day.ask("cards", day.folder / "cards.xlsx")["added"] == 71


def test_a_draw_is_repeated_by_its_seed_and_gives_everybody_one_group(day: Day, called: Run, tmp_path: Path) -> None:
    drawn = day.entered().ask("draw", "--seed", "gorse 12")
    names = [player for group in drawn["groups"] for player in group["players"]]
    assert sorted(names) == sorted(field.PLAYERS)
    assert {len(group["players"]) for group in drawn["groups"]} == {3}
    again = Day(called, tmp_path / "again")
    again.folder.mkdir()
    again.begun().run("enter", again.file("entries.csv", field.entries_text(field.PLAYERS[::-1])))
    assert again.ask("draw", "--seed", "gorse 12")["groups"] == drawn["groups"]
    assert again.ask("draw", "--seed", "gorse 13", "--reason", "wrong seed")["groups"] != drawn["groups"]


def test_a_seed_that_nobody_gave_is_told_and_kept(day: Day) -> None:
    drawn = day.entered().ask("draw")
    assert drawn["seed"].isdigit()
    (row,) = [row for row in day.ask("history")["rows"] if row["kind"] == "draw"]
    assert json.loads(row["says"])["seed"] == drawn["seed"]


def test_times_of_two_tees_with_the_starter_s_gap(day: Day) -> None:
    day.entered().run("draw", "--seed", "7")
    times = day.ask("times")
    # 24 groups, 12 from each tee, 10 min apart, the seventh time of each tee left empty: 08:00 to 08:50, 09:10 to 10:00
    assert [group["time"] for group in times["groups"] if group["hole"] == 10] == [
        *(f"08:{minute:02d}" for minute in range(0, 60, 10)),
        *(f"09:{minute:02d}" for minute in range(10, 60, 10)),
        "10:00",
    ]
    assert times["empty"] == [{"time": "09:00", "hole": 1}, {"time": "09:00", "hole": 10}]
    assert [group["number"] for group in times["groups"]] == list(range(1, 25))


def test_rows_for_handicap_go_into_a_record(day: Day, called: Run) -> None:
    day.started().run("cards", day.file("cards.csv", field.cards_text()))
    out = day.folder / "rounds.csv"
    found = json.loads(day.run("rounds", "--player", "Aspen", "-o", out, "--json", who=False))
    assert [one["player"] for one in found["rounds"]] == ["Aspen"] and found["left_out"] == []
    assert (found["rounds"][0]["course_rating"], found["rounds"][0]["slope"], found["rounds"][0]["date"]) == (71.4, 128, "2026-06-13")
    code, told, err = called("handicap", "index", str(out), "--on", "2026-06-14", "--json")
    assert code == 0, told + err
    every = day.ask("rounds")
    assert {one["player"] for one in every["left_out"]} == {field.NOT_STARTED, field.WITHDRAWN, field.BLANK}


TRIAL = "+examples/trials/four-changes.toml"


def test_under_trial_rules_every_answer_says_so_and_no_round_leaves_for_handicap(day: Day) -> None:
    said = day.run("new", day.file("terms.toml", field.terms_text("stableford")), "--book", f"2023{TRIAL}")
    line = "Played under trial rules: Trial of four changes. Rounds are not acceptable for handicap, because of changes"
    assert line in said
    day.run("enter", day.file("entries.csv", field.entries_text()))
    told = [day.ask("draw", "--seed", "7"), day.ask("times"), day.ask("cards", day.file("cards.csv", field.cards_text()))]
    told += [day.ask("results"), day.ask("rounds")]
    for answer in told:
        under = answer["under"]
        assert under["trial"] is True and under["acceptable_for_handicap"] is False and under["says"].startswith(line)
        assert [change["number"] for change in under["changes"]] == [1, 2, 3, 4]
        assert {change["keeps_rounds_out"] for change in under["changes"]} == {not change["local_rule"] for change in under["changes"]} | {
            True
        }
    assert told[-1]["rounds"] == []
    assert all("changed rules" in one["because"] for one in told[-1]["left_out"] if one["player"] == "Aspen")
    assert line in day.run("results", who=False)


def test_under_a_local_rule_rounds_stay_acceptable(day: Day) -> None:
    said = day.run("new", day.file("terms.toml", field.terms_text("stableford")), "--book", "2023+preferred-lies")
    assert "Rounds are acceptable for handicap" in said


def test_who_wrote_what_when_and_why_is_told_of_a_player(day: Day) -> None:
    day.started().run("cards", day.file("cards.csv", field.cards_text()))
    line = next(line for line in field.cards_text().splitlines() if line.startswith("Aspen,"))
    put_right = line.replace("Aspen," + line.split(",")[1], f"Aspen,{int(line.split(',')[1]) + 1}", 1)
    one = day.file("one.csv", field.cards_text().splitlines()[0] + "\n" + put_right + "\n")
    assert "this one says something else" in day.refused("cards", one)
    before = day.ask("results")
    assert day.ask("cards", one, "--reason", "hole 1 was misread")["changed"] == 1
    rows = day.ask("history", "--player", "aspen")["rows"]
    assert [(row["kind"], row["supersedes"], row["reason"], row["who"]) for row in rows] == [
        ("entry", None, "", "Rowan"),
        ("card", None, "", "Rowan"),
        ("card", rows[1]["number"], "hole 1 was misread", "Rowan"),
    ]
    assert rows[1]["superseded_by"] == rows[2]["number"]
    score = {place["player"]: place["score"] for place in before["places"]}["Aspen"]
    now = {place["player"]: place["score"] for place in day.ask("results")["places"]}["Aspen"]
    assert now < score
    assert day.ask("cards", one, "--reason", "again")["same"] == 1
    assert "Nothing is kept of Nobody" in day.refused("history", "--player", "Nobody", code=3)


def test_every_fault_of_entries_is_told_by_row_and_column_and_nobody_is_entered(day: Day) -> None:
    day.begun()
    rows = day.rows()
    lines = ["Aster,12.0,white,", "aster ,13.0,white,", ",9.0,white,", "Gorse,60.0,white,", "Fern,9.0,blue,Third", "Ivy,,white,"]
    table = "\n".join(["player,handicap_index,tee,division", *lines, ""])
    told = day.refused("enter", day.file("bad.csv", table))
    for fault in (
        "row 3, column player: aster stands in row 2 already",
        "row 4, column player: a name is needed",
        "row 5, column handicap_index: 60.0 cannot be",
        "row 6, column tee: 'blue' is no tee of the terms",
        "row 6, column division: 'Third' is no division of the terms",
        "row 7, column playing_handicap: a net competition needs a handicap",
    ):
        assert fault in told
    assert day.rows() == rows


def test_every_fault_of_cards_is_told_by_row_and_column_and_no_card_is_taken(day: Day) -> None:
    day.started()
    rows = day.rows()
    heading = f"player,{','.join(str(hole) for hole in range(1, 19))},tee,handicap_index,start"
    fours = ",".join(["4"] * 18)
    tee = field.tee_of(field.indexes()["Alder"])
    other = "yellow" if tee == "white" else "white"
    lines = [
        f"Alder,{fours},{other},,",
        f"Aspen,{fours},,3.3,",
        f"Aster,{fours},,,5",
        f"Astor,{fours},white,4.0,",
        f"Avens,{fours},,,",
        f"Avens,{fours},,,",
    ]
    told = day.refused("cards", day.file("bad.csv", "\n".join([heading, *lines]) + "\n"))
    assert "row 7, column player: Avens has a card for round 1 in row 6 already" in told
    told = day.refused("cards", day.file("bad.csv", "\n".join([heading, *lines[:-1]]) + "\n"))
    for fault in (
        f"row 2, column tee: Alder has entered from {tee}, and the card says {other}",
        "row 3, column handicap_index: 3.3 stands here, and +1.2 was entered",
        "row 4, column start: Aster starts from hole",
        "row 5, column player: 'Astor' has not entered; is Aster meant?",
    ):
        assert fault in told
    assert day.rows() == rows


@pytest.mark.parametrize("command", ["enter", "cards"])
def test_a_table_in_another_encoding_or_with_merged_cells_or_formulas_is_refused(day: Day, command: str) -> None:
    day.entered()
    rows = day.rows()
    path = day.folder / "latin.csv"
    path.write_bytes("player,1\nHöhe,4\n".encode("latin-1"))
    assert "not UTF-8" in day.refused(command, path)
    book = Workbook()
    assert book.active is not None
    for line in (["player", 1, *range(2, 19)], ["Alder", "=2+2"], ["Aspen", 4], ["", 4]):
        book.active.append(line)
    book.active.merge_cells("A3:A4")
    book.save(day.folder / "merged.xlsx")
    told = day.refused(command, day.folder / "merged.xlsx")
    assert "cells A3:A4: they are merged" in told and "cell B2: it holds a formula and no value" in told
    assert day.rows() == rows


def test_a_book_that_changed_since_the_event_began_is_told(day: Day) -> None:
    trial = day.file("trial.toml", Path("examples/trials/fixed-lengths.toml").read_text(encoding="utf-8"))
    day.run("new", day.file("terms.toml", field.terms_text("stableford")), "--book", f"2023+{trial}")
    day.file("trial.toml", trial.read_text(encoding="utf-8").replace("dated = 2026", "dated = 2027"))
    told = day.refused("enter", day.file("entries.csv", field.entries_text()), code=3)
    assert "has changed since the event began: its stamp was" in told
    assert "marram event terms" in told
    trial.unlink()
    assert "trial.toml" in day.refused("results", code=2)


def test_terms_are_set_anew_with_a_reason_and_what_stood_is_kept(day: Day) -> None:
    trial = day.file("trial.toml", Path("examples/trials/fixed-lengths.toml").read_text(encoding="utf-8"))
    day.run("new", day.file("terms.toml", field.terms_text("stableford")), "--book", f"2023+{trial}")
    day.run("enter", day.file("entries.csv", field.entries_text()))
    before = day.ask("history")["rows"][0]
    day.file("trial.toml", trial.read_text(encoding="utf-8").replace("dated = 2026", "dated = 2027"))
    assert "To put it right, say why" in day.run("terms", code=3)
    day.run("terms", "--reason", "a slip in the date of the trial")
    assert day.ask("draw", "--seed", "7")["under"]["trial"] is True
    day.run("terms", day.file("other.toml", field.terms_text("stroke-play")), "--reason", "rain")
    assert day.ask("draw", "--seed", "8", "--reason", "terms")["under"]["trial"] is False
    rows = [row for row in day.ask("history")["rows"] if row["kind"] == "terms"]
    assert [(row["supersedes"], row["reason"]) for row in rows] == [(None, ""), (1, "a slip in the date of the trial"), (74, "rain")]
    assert rows[0]["says"] == before["says"]
    one_tee = field.terms_text("stableford").replace('name = "yellow"', 'name = "red"')
    assert "Entries do not fit these terms: " in day.run("terms", day.file("red.toml", one_tee), "--reason", "x", code=3)


def test_steps_out_of_order_say_what_comes_first(day: Day) -> None:
    assert "There is no store" in day.refused("results", code=5)
    day.begun()
    assert "No card is in yet" in day.refused("results", code=3)
    assert "Nobody has entered" in day.refused("draw", code=3)
    assert "There is no draw yet" in day.refused("times", code=3)
    day.run("enter", day.file("entries.csv", field.entries_text(field.PLAYERS[:6])))
    day.run("draw", "--seed", "7")
    day.run("enter", day.file("late.csv", field.entries_text(field.PLAYERS[6:7])))
    assert f"entered after the draw: {field.PLAYERS[6]}" in day.refused("times", code=3)
    assert "A draw stands already" in day.refused("draw", code=3)
    assert "--reason" in day.refused("draw", code=3)
    assert "There is an event thimble-moor-stableford already" in day.refused("new", day.folder / "terms.toml", code=3)
    day.run("new", day.folder / "terms.toml", "--event", "other")
    assert "holds several events" in day.refused("results", code=3)
    assert "Is other meant?" in day.refused("results", "--event", "othr", code=3)
    assert "cannot be the name of an event" in day.refused("new", day.folder / "terms.toml", "--event", "A b", code=3)


def test_an_entry_is_put_right_with_a_reason(day: Day) -> None:
    day.entered()
    other = day.file("other.csv", "player,handicap_index,tee\nAspen,+2.0,white\nAlder,9.9,white\n")
    told = day.refused("enter", other, code=3)
    assert "Row 2: Aspen has entered with something else; row 3: Alder has entered with something else" in told
    turned = field.entries_text(field.PLAYERS[::-1])
    assert day.ask("enter", day.file("turned.csv", turned))["same"] == 72, "another order says nothing else"
    assert day.ask("enter", other, "--reason", "new revision")["changed"] == 2
    assert day.ask("enter", day.folder / "entries.csv", "--reason", "back")["changed"] == 2


def test_a_draw_by_handicap_and_as_listed(day: Day) -> None:
    drawn = day.entered().ask("draw", "--by", "handicap", "--seed", "7", "--size", "4")
    index = {name: -1.2 if text.startswith("+") else float(text) for name, text in field.indexes().items()}
    in_order = [index[player] for group in drawn["groups"] for player in group["players"]]
    assert in_order == sorted(in_order)
    listed = "player,group\n" + "".join(f"{name},{place // 4}\n" for place, name in enumerate(field.PLAYERS))
    again = day.ask("draw", "--by", "list", "--from", day.file("list.csv", listed), "--reason", "the Committee sets it")
    assert [tuple(group["players"]) for group in again["groups"]] == [field.PLAYERS[place : place + 4] for place in range(0, 72, 4)]
    assert again["seed"] == ""
    bad = "player\n" + "".join(f"{name}\n" for name in (*field.PLAYERS[1:], "Aspen", "Nobody"))
    told = day.refused("draw", "--by", "list", "--from", day.file("bad.csv", bad), "--reason", "x", code=3)
    for fault in ("Nobody has not entered", "Aspen is listed 2 times", "Alder is not listed"):
        assert fault in told


def test_backup_and_restore_give_the_same_results(day: Day, called: Run) -> None:
    day.started().run("cards", day.file("cards.csv", field.cards_text()))
    before = day.ask("results")
    code, out, err = called("store", "backup", "-o", str(day.folder / "backup.sqlite"), "--store", day.store)
    assert code == 0 and "sound" in out, err
    code, out, err = called("store", "restore", str(day.folder / "backup.sqlite"), "--store", day.store)
    assert code == 5 and "something already" in err
    day.store = str(day.folder / "restored.sqlite")
    code, out, err = called("store", "restore", str(day.folder / "backup.sqlite"), "--store", day.store)
    assert code == 0, err
    assert day.ask("results") == before


def test_results_are_written_as_a_table(day: Day) -> None:
    day.started().run("cards", day.file("cards.csv", field.cards_text()))
    out = day.folder / "places.csv"
    day.run("results", "-o", out, who=False)
    lines = out.read_text(encoding="utf-8").splitlines()
    assert lines[0] == "division,scores,place,player,score,score_says,decided_by,status"
    assert lines[-1] == f",,,{field.NOT_IN},,round 1,,card-not-in"
    assert len(lines) == 1 + 2 * 71 + 2 * 71 + 1


def test_the_score_for_handicap_counts_no_hole_above_net_double_bogey(day: Day) -> None:
    # Index 9.0 on 71.4 and 128, par 72: 9.5947, so a Course Handicap of 10. Holes 1 and 2 (stroke index 9 and 5, par 4) count 7 at most:
    # a 12 counts 7, a ball picked up counts 7, and sixteen fives count as they are: 7 + 7 + 80 = 94 (Rules of Handicapping 2024, 3.1b)
    day.begun().run("enter", day.file("entries.csv", "player,handicap_index,tee\nAster,9.0,white\n"))
    heading = f"player,{','.join(str(hole) for hole in range(1, 19))}"
    day.run("cards", day.file("cards.csv", f"{heading}\nAster,12,P,{','.join(['5'] * 16)}\n"))
    (round_,) = day.ask("rounds")["rounds"]
    assert round_["adjusted_gross"] == 94


def test_a_handicap_on_the_card_that_contradicts_the_entry_is_a_fault(day: Day) -> None:
    day.begun().run("enter", day.file("entries.csv", "player,handicap_index,tee\nAster,9.0,white\n"))
    heading = f"player,{','.join(str(hole) for hole in range(1, 19))},playing_handicap"
    told = day.refused("cards", day.file("cards.csv", f"{heading}\nAster,{','.join(['5'] * 18)},25\n"))
    assert "row 2, column playing_handicap: 25 stands here, and another kind of handicap was entered" in told


def test_a_local_rule_beside_a_trial_keeps_no_round_out(day: Day) -> None:
    day.run("new", day.file("terms.toml", field.terms_text("stableford")), "--book", f"2023+preferred-lies{TRIAL}")
    line = day.ask("enter", day.file("entries.csv", field.entries_text()))["under"]["says"]
    assert line.endswith("not acceptable for handicap, because of changes 1 to 4 of Trial of four changes.")


def test_cards_are_printed_in_the_order_of_the_start(day: Day) -> None:
    from tests.cli.test_event_papers import pages, printed

    first = day.started().ask("history")["rows"][-1]
    players = [player for group in json.loads(first["says"])["groups"] for player in group["players"]]
    told = pages(printed(day, "cards"))
    assert [name for page in told for name in field.PLAYERS if page.startswith(f"{name} ")] == players[::2]


def test_a_draft_keeps_rounds_out_without_any_change_laid_on(day: Day) -> None:
    said = day.run("new", day.file("terms.toml", field.terms_text("stableford")), "--book", "draft-2017")
    assert "a draft. Rounds are not acceptable for handicap." in said


def test_handicap_rules_that_changed_since_the_event_began_are_told(day: Day) -> None:
    variant = Path("src/marram/rulebook/handicapping_variants/half-index-to-a-tenth.toml").read_text(encoding="utf-8")
    file = day.file("variant.toml", variant)
    day.run("new", day.file("terms.toml", field.terms_text("stableford", more=f'handicapping = "2024+{file}"\n')))
    dated = next(line for line in variant.splitlines() if line.startswith("dated"))
    day.file("variant.toml", variant.replace(dated, "dated = 2031-01-01"))
    assert "has changed since the event began" in day.refused("enter", day.file("entries.csv", field.entries_text()), code=3)


def test_nothing_is_worked_out_from_a_store_that_was_altered(day: Day) -> None:
    day.started().run("cards", day.file("cards.csv", field.cards_text()))
    with closing(sqlite3.connect(day.store)) as connection:
        connection.execute("DROP TRIGGER no_row_is_changed")
        connection.execute("""UPDATE journal SET content = replace(content, '"strokes":4', '"strokes":3') WHERE key = 'aspen|1'""")
        connection.commit()
    told = day.refused("results", code=5)
    assert "The store is damaged: row " in told and "it was altered" in told and "restore a backup" in told
    code, out, _ = day.called("store", "verify", "--store", day.store)
    assert code == 1 and "not sound" in out


def test_an_entry_that_is_put_right_moves_the_score_of_a_card_that_is_in(day: Day) -> None:
    # 95 % of -1.2 x 128 / 113 - 0.6 = -1.9593 is -1.86, so Aspen gives 2; of 21.2 x 128 / 113 - 0.6 = 23.4142 it is 22.24, so 22
    day.started("stroke-play").run("cards", day.file("cards.csv", field.cards_text()))
    before = {place["player"]: place["rounds"][0] for place in day.ask("results")["places"]}["Aspen"]
    day.run("enter", day.file("right.csv", "player,handicap_index,tee\nAspen,21.2,white\n"), "--reason", "the Index was misread")
    after = {place["player"]: place["rounds"][0] for place in day.ask("results")["places"]}["Aspen"]
    assert after["gross"] == before["gross"] and (before["handicap"], after["handicap"]) == (-2, 22)
    assert after["total"] == after["gross"] - after["handicap"]
    assert day.ask("cards", day.folder / "cards.csv")["same"] == 71, "the cards themselves say what they said"
