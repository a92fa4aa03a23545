"""A book: typed look-ups, one edition at a time, and the sentences that its procedures need."""

from __future__ import annotations

import json
from hashlib import sha256

import pytest
from shapely.geometry import Point

from marram.core.errors import RuleDataError
from marram.core.terms import Area, Club, FeatureKind, Form, Hand
from marram.course.frame import Position
from marram.rulebook import open_book, packaged_catalogue, read_overlay
from marram.rulebook.values import plain_value
from marram.rulings import Choice, Incident, Player, PreviousStroke, rule_on
from marram.rulings.rule_on import situations
from tests.support.editions import WRITTEN_FOR
from tests.support.ground import course, feature, pond

CATALOGUE = packaged_catalogue()
EDITIONS = tuple(CATALOGUE.editions)
BOOKS = {edition: open_book(edition, [], CATALOGUE) for edition in EDITIONS}
SITUATIONS = tuple(situations(BOOKS["2023"]))
PLACES = {
    "lost": None,
    "in the pond": Position(x_m=0, y_m=-55),
    "in a bunker": Position(x_m=60, y_m=-60),
    "on the green": Position(x_m=2, y_m=-6),
    "on the teeing area": Position(x_m=0, y_m=-380),
    "in the open": Position(x_m=40, y_m=-120),
    "out of bounds": Position(x_m=340, y_m=-100),
}
RULED = [(situation, place) for situation in SITUATIONS for place in PLACES if place != "out of bounds" or situation == "out-of-bounds"]
PROCEDURES = [name for name, row in CATALOGUE.rows.items() if name.startswith("relief.") and "title" in row.parts]


def test_unknown_key_names_the_nearest() -> None:
    with pytest.raises(RuleDataError, match=r"search\.limit_mim.*Nearest: search\.limit_min"):
        BOOKS["2023"].number("search.limit_mim")


def test_unknown_edition_lists_the_known() -> None:
    with pytest.raises(RuleDataError, match="2016, draft-2017, 2019, 2023"):
        open_book("1950", [], CATALOGUE)


@pytest.mark.parametrize(
    ("look_up", "key", "words"),
    [
        ("number", "relief.lateral.size", "a number was asked for"),
        ("yes", "search.limit_min", "a yes or no was asked for"),
        ("word", "search.limit_min", "a word was asked for"),
        ("words", "search.limit_min", "a list of words was asked for"),
        ("size", "search.limit_min", "a size was asked for"),
        ("number", "relief.unplayable-lateral.allowed", "a number was asked for"),
    ],
)
def test_a_look_up_of_the_wrong_type_is_refused(look_up: str, key: str, words: str) -> None:
    with pytest.raises(RuleDataError, match=words):
        getattr(BOOKS["2023"], look_up)(key)


def test_search_time_is_five_minutes_and_then_three() -> None:
    """Source: Rules of Golf 2016, Definition of lost ball; Draft new rules (March 2017), Rules of Golf 2019 and 2023, Rule 18.2a."""
    limits = [BOOKS[edition].number("search.limit_min").value for edition in WRITTEN_FOR]
    assert limits == [5, 3, 3, 3]


def test_each_book_has_a_stamp_of_its_own_that_never_changes() -> None:
    stamps = {edition: book.stamp for edition, book in BOOKS.items()}
    assert len(set(stamps.values())) == len(EDITIONS)
    assert stamps == {edition: open_book(edition, [], CATALOGUE).stamp for edition in EDITIONS}


def overlay_text(day: str, now: int) -> str:
    return f'title = "T"\ndated = {day}\n[[change]]\nkey = "search.limit_min"\nwas = 3\nnow = {now}\nbecause = "b"\n'


def test_a_stamp_is_the_digest_of_edition_overlays_and_every_value() -> None:
    book = open_book("2023", [read_overlay(overlay_text("2026-01-01", 2), name="t", catalogue=CATALOGUE)], CATALOGUE)
    rows = {row.id: row.editions["2023"].values for row in CATALOGUE.rows.values()}
    values = {f"{row}.{part}": plain_value(value) for row, held in rows.items() for part, value in held.items()} | {"search.limit_min": 2}
    content = {"edition": "2023", "overlays": [["T", "2026-01-01"]], "values": values}
    digest = sha256(json.dumps(content, sort_keys=True, separators=(",", ":")).encode()).hexdigest()
    assert book.stamp == f"{digest[:4]} {digest[4:8]}"


def test_a_stamp_tells_overlays_apart_by_value_and_by_day() -> None:
    texts = [overlay_text("2026-01-01", 2), overlay_text("2026-01-01", 4), overlay_text("2026-02-01", 2)]
    books = [open_book("2023", [read_overlay(text, name="t", catalogue=CATALOGUE)], CATALOGUE) for text in texts]
    assert len({book.stamp for book in [*books, BOOKS["2023"]]}) == 4
    assert {book.sign for book in books} == {"t"}  # the name of its file, for want of a longer one
    assert not any(book.is_in_force for book in books)
    assert [BOOKS[edition].is_in_force for edition in WRITTEN_FOR] == [True, False, True, True]


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_value_of_every_edition_has_a_citation(edition: str) -> None:
    book = BOOKS[edition]
    held = [key for key in CATALOGUE.keys if book.has(key)]
    assert len(held) > 100
    for key in held:
        found = book.cited(key)
        assert found.citations
        assert all(citation.edition == edition and citation.rule and citation.seen for citation in found.citations), key


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("row_id", PROCEDURES)
def test_every_procedure_can_be_told_in_full(edition: str, row_id: str) -> None:
    """What a ruling reads from an open procedure's row is there, in every edition that gives it."""
    book = BOOKS[edition]
    if not book.has_row(row_id):
        assert book.why_absent(row_id)
        return
    assert book.word(f"{row_id}.title").value
    assert book.word(f"{row_id}.why_not").value
    if not book.yes(f"{row_id}.allowed").value:
        return
    follows = book.words(f"{row_id}.follow").value
    if book.has(f"{row_id}.penalty_strokes"):
        assert book.number(f"{row_id}.penalty_strokes").value in {0, 1, 2}
    else:  # the procedures that it follows, or the situation that gives a dropping zone, say it
        assert follows or book.word(f"{row_id}.shape").value == "dropping-zone"
    if follows:
        return
    shape = book.word(f"{row_id}.shape").value
    if shape in {"disc", "disc-at-chosen-point", "disc-at-first-touch", "strip", "band-to-fairway"}:
        assert book.size(f"{row_id}.size").value.amount > 0
    needs_line = book.word(f"{row_id}.reference").value == "point-on-line"
    assert (book.word(f"{row_id}.line_from").value != "none") == needs_line
    asked = ("needs", "needs_if_not_found", "barred_by", "only_if")
    for fact in (fact for part in asked for fact in book.words(f"{row_id}.{part}").value):
        assert book.catalogue.facts[fact].asked_in(edition)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("situation", "place"), RULED)
def test_every_situation_is_ruled_on_without_a_missing_sentence(edition: str, situation: str, place: str) -> None:
    """Every edition, situation and area of the course, with everything known and with nothing known."""
    ball = PLACES[place]
    path = feature("path", FeatureKind.IMMOVABLE_OBSTRUCTION, Point((ball or Position(x_m=0, y_m=-200)).xy).buffer(1.5), what="path")
    ground = course(pond(), feature("bunker", FeatureKind.BUNKER, Point(60, -60).buffer(8)), path)
    for previous in (PreviousStroke(at=None, area=Area.TEEING_AREA), PreviousStroke(at=Position(x_m=40, y_m=-250), area=None)):
        for known in (True, False):
            incident = Incident(
                hole=1,
                situation=situation,
                form=Form.STROKE_PLAY,
                ball=ball,
                player=Player(hand=Hand.RIGHT, longest_club_in=45, club=Club.IRON) if known else Player(),
                facts={"known_in_penalty_area": True} if known else {},
                crossed_at=Position(x_m=-15, y_m=-60) if known else None,
                previous_stroke=previous if known else None,
                choice=Choice(back_m=12 if known else None),
            )
            ruling = rule_on(incident, ground, BOOKS[edition])
            assert ruling.options or ruling.not_available or ruling.facts_needed
            told = [line.text for line in ruling.lines] + [entry.because for entry in ruling.not_available]
            told += [entry.question for entry in ruling.facts_needed] + [step for option in ruling.options for step in option.steps]
            assert told
            assert all(text.strip() and "{" not in text and "  " not in text for text in told), told
