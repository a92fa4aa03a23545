"""Several rounds, a day that goes wrong from end to end, teams and brackets: 72 invented players through the commands."""

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

TWO_ROUNDS = 'rounds = 2\n[cut]\nplaces = 30\nrule = "The leading 30 and ties"\n'
OUT = ("Aspen", "Alder", "Aster")


@pytest.fixture
def day(called: Run, tmp_path: Path) -> Day:
    return Day(called, tmp_path)


def typed_on_the_cards() -> str:
    """The cards with what became of players and a ruling typed in, as one who keeps no store would have them."""
    lines = field.cards_text().splitlines()
    told = []
    for line in lines:
        cells = line.split(",")
        if cells[0] in OUT:
            cells[-1] = "withdrawn: ill"
        if cells[0] == "Cress":
            cells[-2] = "9: 2 @R2"
        told.append(",".join(cells))
    return "\n".join(told) + "\n"


@pytest.mark.parametrize("form", sorted(field.FORMS))
def test_a_day_with_withdrawals_a_suspension_a_late_ruling_and_a_closing(day: Day, called: Run, form: str) -> None:
    day.started(form).run("cards", day.file("cards.csv", field.cards_text()))
    for player in OUT:
        day.run("withdraw", player, "--reason", "ill")
    day.run("suspend", "--signal", "immediate", "--at", "09:10", "--reason", "lightning")
    day.run("resume", "--at", "09:40")
    day.run("withdraw", field.NOT_IN, "--as", "no-show", "--reason", "not at the start, Rule 5.3a")
    day.run("close", "--as", "final")
    assert day.run("log", "Cress", "--hole", "9", "--strokes", "2", "--says", "seen by another player").startswith("R2: Cress")
    day.run("close")
    assert "The event is closed" in day.run("log", "Cress", "--strike", "R2", "--reason", "x", code=3)
    results = day.ask("results")
    # the same cards by themselves, with what became of players typed on them
    entered = field.entries_text().splitlines()[1:]
    known = {line.split(",")[0]: line.split(",")[1:] for line in entered}
    lines = typed_on_the_cards().splitlines()
    table = [f"{lines[0]},handicap_index,tee"] + [f"{line},{','.join(known[line.split(',')[0]])}" for line in lines[1:]]
    ended, out, err = called(
        "score", str(day.file("full.csv", "\n".join(table) + "\n")), "--terms", str(day.folder / "terms.toml"), "--book", "2023", "--json"
    )
    assert ended == 0, err
    (alone,) = json.loads(out)["books"]
    assert [key(place) for place in results["places"] if place["player"] != field.NOT_IN] == [key(place) for place in alone["places"]]
    assert [one["ruling"] for one in placed(day, "Cress")["penalties"]] == ["R2"]
    assert results["state"] == "closed" and "09:10 to 09:40: lightning" in results["suspended"]
    day.run("print", "results", "-o", day.folder / "results.pdf", who=False)
    words = words_of((day.folder / "results.pdf").read_bytes())
    assert "Closed" in words and "ruling R2" in words and "not at the start, Rule 5.3a" in words


def key(place: dict[str, Any]) -> tuple[object, ...]:
    return (place["player"], place["place"], place["score"], place["decided_by"], place["status"])


def in_round(text: str, number: int, only: list[str] | None = None) -> str:
    lines = text.splitlines()
    kept = [line for line in lines[1:] if only is None or line.split(",")[0] in only]
    return "\n".join([f"{lines[0]},round", *(f"{line},{number}" for line in kept)]) + "\n"


def two_rounds(day: Day) -> Day:
    text = field.terms_text("stroke-play", more=TWO_ROUNDS).replace("day = 2026-06-13", "day = [2026-06-13, 2026-06-14]")
    short = day.file("short.toml", text.replace(", 2026-06-14]", "]"))
    assert "one date, or one for each of 2 rounds" in day.run("new", short, code=2)
    day.run("new", day.file("terms.toml", text))
    day.run("enter", day.file("entries.csv", field.entries_text()))
    day.run("draw", "--seed", "7")
    day.run("times")
    drawn = json.loads(day.run("draw", "--round", "2", "--seed", "8", "--json"))["groups"]
    assert sum(len(group["players"]) for group in drawn) == 72, "a later round may be drawn before a card is in"
    day.run("cards", day.file("first.csv", in_round(field.cards_text(), 1)))
    return day


def test_two_rounds_with_a_cut_and_leaders_last(day: Day) -> None:
    two_rounds(day)
    assert "1 card is not in: Birch" in day.run("cut", code=3)
    assert "1 card is not in: Birch" in day.run("draw", "--round", "2", "--by", "score", "--reason", "x", code=3)
    day.run("withdraw", field.NOT_IN, "--as", "no-return", "--reason", "card lost")
    first = day.ask("results", "--after", "1")
    assert first["after_round"] == 1 and first["cut"] is None
    made = json.loads(day.run("cut", "--json"))["cut"]
    totals = {place["player"]: place["score"] for place in first["places"] if place["place"] is not None}
    line = sorted(totals.values())[29]
    assert made["line"] == line and set(made["through"]) == {player for player, total in totals.items() if total <= line}
    assert "a cut stands already" in day.run("cut", code=3).casefold()
    by = ("--by", "score", "--reason", "by score, as the terms say")
    drawn = [group["players"] for group in json.loads(day.run("draw", "--round", "2", *by, "--json"))["groups"]]
    order = [totals[player] for group in drawn for player in group]
    assert order == sorted(order, reverse=True) and len(order) == len(made["through"])
    assert drawn[-1][-1] == first["places"][0]["player"] or totals[drawn[-1][-1]] == first["places"][0]["score"]
    times = json.loads(day.run("times", "--round", "2", "--json"))["groups"]
    last = max(times, key=lambda group: (group["time"], group["hole"] == 1))
    assert last["players"] == drawn[-1] and last["hole"] == 1, "of two tees the better half starts from the first"
    second_round(day, made)


def second_round(day: Day, made: dict[str, Any]) -> None:
    out = made["out"][0]
    told = day.run("cards", day.file("wrong.csv", in_round(field.cards_text(), 2, [out])), code=2)
    assert f"row 2, column round: {out} missed the cut after round 1, and this card is of round 2" in told
    second = field.cards_text(tuple(made["through"]), seed=21)
    day.run("cards", day.file("second.csv", in_round(second, 2)))
    results = day.ask("results")
    assert {place["player"] for place in results["places"] if place["status"] == "missed-cut"} == set(made["out"])
    winner = results["places"][0]
    assert winner["score"] == sum(one["total"] for one in winner["rounds"]) and len(winner["rounds"]) == 2
    assert results["not_in"] == [], "nobody who is out after the first round is awaited in the second"
    assert (day.ask("results", "--after", "1")["cut"], results["cut"]["line"]) == (None, made["line"])
    days = {(one["round"], one["date"]) for one in day.ask("rounds")["rounds"]}
    assert days == {(1, "2026-06-13"), (2, "2026-06-14")}
    prints_of_two_rounds(day, out)


def prints_of_two_rounds(day: Day, out: str) -> None:
    for paper in ("starting-list", "cards", "results"):
        day.run("print", paper, "-o", day.folder / f"{paper}.pdf", who=False)
    words = {paper: words_of((day.folder / f"{paper}.pdf").read_bytes()) for paper in ("starting-list", "cards", "results")}
    assert "round 2 of 2" in words["starting-list"] and out not in words["starting-list"].split()
    assert "The leading 30 and ties" in words["results"] and "missed the cut" in words["results"].casefold()
    assert "cut" in [row["kind"] for row in day.ask("history", "--player", out)["rows"]]


def test_a_round_cut_short_and_counted_again_moves_results_and_says_why(day: Day) -> None:
    day.started("stroke-play").run("cards", day.file("cards.csv", field.cards_text()))
    before = day.ask("results")
    assert "not said why" in day.run("shorten", "--holes", "1-9", code=3)
    assert "Give one of" in day.run("shorten", "--reason", "x", code=2)
    assert "There is no round 2" in day.run("shorten", "--round", "2", "--cancel", "--reason", "x", code=3)
    assert "names no holes" in day.run("shorten", "--holes", "10-19", "--reason", "x", code=3)
    assert "stands already" in day.run("shorten", "--in-full", "--reason", "x", code=3)
    assert "stands already" in day.run("shorten", "--holes", "1-9,10-18", "--reason", "x", code=3)
    day.run("shorten", "--holes", "1-9", "--reason", "darkness")
    now = day.ask("results")
    assert [(one["round"], one["holes"], one["because"]) for one in now["counts"]] == [(1, list(range(1, 10)), "darkness")]
    for place in now["places"]:
        for one in place["rounds"]:
            counted = [hole for hole in one["holes"] if hole.get("counts", True)]
            assert [hole["hole"] for hole in counted] == list(range(1, 10))
            if place["place"] is not None:
                assert place["score"] == sum(hole["counted"] for hole in counted) - one["handicap"]
    line = "Round 1 counts over 9 holes alone, 1 to 9: darkness."
    assert line in day.run("results", who=False)
    day.run("print", "results", "-o", day.folder / "results.pdf", who=False)
    assert line in words_of((day.folder / "results.pdf").read_bytes())
    rounds = day.ask("rounds")
    assert rounds["rounds"] == [] and any("some of its holes alone" in one["because"] for one in rounds["left_out"])
    day.run("shorten", "--in-full", "--reason", "play went on at dawn")
    assert [key(place) for place in day.ask("results")["places"]] == [key(place) for place in before["places"]]
    told = [(row["kind"], row["reason"]) for row in day.ask("history", "--player", "Alder")["rows"]][-2:]
    assert told == [("counts", "darkness"), ("counts", "play went on at dawn")]


def test_ties_are_decided_by_the_play_off_that_was_logged(day: Day) -> None:
    terms = field.terms_text("stroke-play", more='[ties]\nsteps = ["play-off", "countback"]\n')
    day.run("new", day.file("terms.toml", terms))
    day.run("enter", day.file("entries.csv", field.entries_text()))
    day.run("cards", day.file("cards.csv", field.cards_text()))
    places = [place for place in day.ask("results")["places"] if place["place"] is not None]
    scores = [place["score"] for place in places]
    tied = next(score for score in scores if scores.count(score) > 1)
    names = [place["player"] for place in places if place["score"] == tied]
    turned = names[::-1]
    assert "not equal" in day.run("play-off", places[0]["player"], places[-1]["player"], code=3)
    day.run("play-off", *map(str.upper, turned), "--how", "first extra hole")
    now = [place for place in day.ask("results")["places"] if place["score"] == tied]
    assert [(place["player"], place["decided_by"]) for place in now] == [(name, "play-off") for name in turned]
    assert "stands already" in day.run("play-off", *names, code=3)
    day.run("play-off", *names, "--reason", "the order was typed the wrong way round")
    assert [place["player"] for place in day.ask("results")["places"] if place["score"] == tied] == names


def test_a_bracket_from_its_draw_to_its_winner(day: Day) -> None:
    terms = field.terms_text("match-play")
    day.run("new", day.file("terms.toml", terms))
    day.run("enter", day.file("entries.csv", field.entries_text(field.PLAYERS[:6])))
    assert "There is no bracket yet" in day.run("match", "Alder", "--beats", "Aspen", "--by", "1 up", code=3)
    listed = day.file("list.csv", "player\n" + "\n".join(field.PLAYERS[5::-1]) + "\n")
    drawn = json.loads(day.run("bracket", "--by", "list", "--from", listed, "--json"))["bracket"]
    assert drawn["numbered"] == list(field.PLAYERS[5::-1]) and drawn["byes"] == list(field.PLAYERS[5:3:-1])
    assert "a bracket stands already" in day.run("bracket", code=3).casefold()
    play_it_out(day, *field.PLAYERS[5::-1])


def play_it_out(day: Day, *players: str) -> None:
    one, two, three, four, five, six = players
    day.run("match", four, "--beats", five, "--by", "3 & 2")
    assert "do not meet" in day.run("match", four, "--beats", six, "--by", "3 & 2", code=3)
    assert "cannot be over 18 holes" in day.run("match", three, "--beats", six, "--by", "9 & 2", code=3)
    day.run("match", four.lower(), "--beats", one, "--by", "19th")
    assert "later round already" in day.run("match", five, "--beats", four, "--by", "1 up", "--reason", "x", code=3)
    assert "later round already" in day.run("match", four, "--beats", five, "--strike", "--reason", "x", code=3)
    day.run("match", four, "--beats", one, "--strike", "--reason", "reported the wrong way round")
    day.run("match", one, "--beats", four, "--by", "19th", "--reason", "reported the wrong way round")
    assert "no winner yet" in day.run("close", "--as", "final", code=3)
    day.run("match", six, "--beats", three, "--by", "walkover")
    day.run("match", two, "--beats", six, "--by", "2 up")
    day.run("match", two, "--beats", one, "--by", "conceded")
    day.run("close", "--as", "final")
    results = day.ask("results")
    assert results["bracket"]["winner"] == two and results["not_in"] == []
    day.run("print", "results", "-o", day.folder / "results.pdf", who=False)
    words = words_of((day.folder / "results.pdf").read_bytes())
    assert f"{two} won" in words and "Final" in words and f"{two} by concession" in words


def test_cards_of_a_match_decide_it_in_the_bracket(day: Day) -> None:
    day.run("new", day.file("terms.toml", field.terms_text("match-play", scores="gross")))
    day.run("enter", day.file("entries.csv", field.entries_text(field.PLAYERS[:4])))
    day.run("bracket")
    one, _, _, four = field.PLAYERS[:4]
    # the first player wins ten holes and ties none: 10 & 8
    heading = ",".join(str(hole) for hole in range(1, 11))
    table = f"player,match,{heading}\n{four},A,{','.join('3' * 10)}\n{one},A,{','.join('4' * 10)}\n"
    day.run("cards", day.file("match.csv", table.replace(heading, heading + "," + ",".join(map(str, range(11, 19))))))
    match = day.ask("results")["bracket"]["matches"][0]
    assert (match["sides"], match["winner"], match["says"]) == ([one, four], four, "10 & 8")
