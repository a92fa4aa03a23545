"""The papers of an event, read back: what must stand on each, on every page of it."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from tests.cli.test_event_command import Day
from tests.support import invented_field as field
from tests.support.pdf_reading import page_mm, words_of
from tests.support.running import Run

TRIAL = "examples/trials/four-changes.toml"
LINE = "Played under trial rules: Trial of four changes. Rounds are not acceptable for handicap, because of changes 1 to 4."
ADVICE = "Advice to the official; the published Rules and the Committee decide."
LIGHTNING = "Lightning or thunder near: stop"


@pytest.fixture
def day(called: Run, tmp_path: Path) -> Day:
    return Day(called, tmp_path)


def printed(day: Day, paper: str) -> bytes:
    out = day.folder / f"{paper}.pdf"
    day.run("print", paper, "-o", out, who=False)
    return out.read_bytes()


def pages(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    return [" ".join(document[number].get_textpage().get_text_range().split()) for number in range(len(document))]


def test_every_page_of_every_paper_says_that_rules_are_tried(day: Day) -> None:
    day.run("new", day.file("terms.toml", field.terms_text("stableford")), "--book", f"2023+{TRIAL}")
    day.run("enter", day.file("entries.csv", field.entries_text()))
    day.run("draw", "--seed", "7")
    day.run("times")
    day.run("cards", day.file("cards.csv", field.cards_text()))
    for paper in ("starting-list", "cards", "results", "local-rules"):
        pdf = printed(day, paper)
        width, height = page_mm(pdf)
        assert (round(width), round(height)) == (210, 297)
        for page in pages(pdf):
            assert LINE in page and ADVICE in page and "stamp" in page
    rules = words_of(printed(day, "local-rules"))
    cautions = [
        rules.index(word) for word in (LIGHTNING, "People in range.", "Water near", "No. What holds today", "Time allowed for looking")
    ]
    assert cautions[0] < min(cautions[1:]), "lightning comes first"
    assert rules.count("No: it is tried here. It makes rounds not acceptable for handicap.") == 4


def test_the_starting_list_holds_every_player_once_and_the_empty_times(day: Day) -> None:
    told = words_of(printed(day.started(), "starting-list"))
    assert all(told.split().count(name) == 1 for name in field.PLAYERS)
    assert told.count("stays empty: the field catches up") == 2
    assert "drawn at random, seed 7" in told and LIGHTNING in told
    assert "trial rules" not in told


def test_a_card_shows_the_strokes_where_they_fall(day: Day) -> None:
    # Index 9.0 on a tee of 71.4 and 128, par 72: 9 x 128 / 113 - 0.6 = 9.5947, times 95 % = 9.115, so 9 strokes
    text = field.terms_text("stableford", more="allowance_pct = 95\n")
    day.run("new", day.file("terms.toml", text))
    day.run("enter", day.file("entries.csv", "player,handicap_index,tee\nAster,9.0,white\nGorse,+6.0,white\n"))
    first, second = (page.partition(name)[2] for page in pages(printed(day, "cards")) for name in ("Aster", "Gorse"))
    assert "Handicap Index 9.0 Course Handicap 10 Strokes received 9" in first
    assert "Course Handicap 9.5947 x 95%: 9" in first
    # nine strokes fall on stroke index 1 to 9: holes 1, 2, 5, 6, 8 going out and 10, 12, 14, 17 coming in
    assert "Receives 5" in " ".join(first.split()) and "Receives 4" in first
    # a net bogey is worth a point, a net double bogey none: par 4 with a stroke may be picked up after 6, without one after 5
    assert "Pick up after 6 6 4 6 6 6 4 6 6" in first
    assert "Handicap Index +6.0" in second and "Strokes received +" in second


def test_results_say_what_decided_and_who_is_in_no_place(day: Day) -> None:
    day.started("stroke-play").run("cards", day.file("cards.csv", field.cards_text()))
    told = words_of(printed(day, "results"))
    assert "Provisional 1 card still out." in told
    assert f"Card not in {field.NOT_IN}" in told
    assert f"Did not start {field.NOT_STARTED}" in told
    assert f"Withdrew {field.WITHDRAWN}: injured on 11" in told
    assert "Not in the places" in told and "of 72" in told
    assert f"Disqualified {field.BLANK}" in told or f"No result {field.BLANK}" in told
    assert "ruling R1" in told and " clear" in told and "alone on" in told and " against " in told
    for title in ("Net", "Gross", "First, net", "First, gross", "Second, net", "Second, gross"):
        assert f"{title} " in told


def test_what_is_not_there_yet_cannot_be_printed(day: Day) -> None:
    day.begun()
    for paper, told in (("starting-list", "no starting times"), ("cards", "Nobody has entered"), ("results", "No card is in")):
        assert told in day.refused("print", paper, "-o", day.folder / "x.pdf", code=3)
    assert "The Committee has set no local rule" in words_of(printed(day, "local-rules"))
    assert "End the name in .pdf" in day.refused("print", "local-rules", "-o", day.folder / "x.txt", code=2)
    assert not (day.folder / "x.pdf").exists()


def test_matches_are_printed_by_pairs(day: Day) -> None:
    text = field.terms_text("match-play", scores="gross")
    day.run("new", day.file("terms.toml", text))
    day.run("enter", day.file("entries.csv", "player,tee\nAster,white\nGorse,white\n"))
    holes = ",".join(str(hole) for hole in range(1, 19))
    won, lost = ",".join(["4"] * 18), ",".join(["4"] * 17 + ["5"])
    day.run("cards", day.file("cards.csv", f"player,match,{holes}\nAster,final,{lost}\nGorse,final,{won}\n"))
    told = words_of(printed(day, "results"))
    assert "1 Gorse won 1 up match final 2 Aster lost 1 up match final" in told
    assert "clear" not in told and "alone" not in told


def test_the_form_is_named_as_players_say_it(day: Day) -> None:
    day.run("new", day.file("terms.toml", field.terms_text("par-bogey")))
    day.run("enter", day.file("entries.csv", "player,handicap_index,tee\nAster,9.0,white\n"))
    told = words_of(printed(day, "cards"))
    assert "par or bogey" in told
    assert "par bogey" not in told
