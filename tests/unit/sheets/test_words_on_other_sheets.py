"""No word of a further sheet, a frame of a guide or a measuring strip is cut, covered or laid over another."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from marram.core.terms import Club, Hand
from marram.interchange.books.book_files import overlay_of, read_book
from marram.interchange.courses.course_geojson import read_course
from marram.office.trials.make_guide import base_of, guide_trial
from marram.rulings.case.incident import Player
from marram.sheets.guide.content import Guide
from marram.sheets.guide.frames import A4_FRAME, draw_in, paper_frame
from marram.sheets.guide.paper import drawings_of
from marram.sheets.guide.screen import HALF, PHONE, STEP
from marram.sheets.pages.strip_sheet import draw_strip, read_length
from tests.support.drawn_places import drawn_places, sheets_of
from tests.support.drawn_words import covered, cut_off, overlaps, read_drawing

ROOT = Path(__file__).resolve().parents[3]
LENGTHS = ("2cm", "1in", "10in", "20in", "1yd", "2m", "3.3333 m", "5m", "30 cm", "0.7 m", "6ft", "25.1cm", "196.8503in")


def faults_of(svg: str) -> list[str]:
    drawn = read_drawing(svg)
    assert drawn.words, "no words read: the check would pass without looking at anything"
    return [fault for check in (overlaps, cut_off, covered) for fault in check(drawn)]


def test_every_word_of_a_further_sheet_is_whole_and_clear() -> None:
    faults, seen = [], 0
    for place in drawn_places():
        for svg in sheets_of(place)[1:]:
            faults += [f"{place.name}: {fault}" for fault in faults_of(svg)]
            seen += 1
    assert not faults, "\n".join(faults)
    assert seen > 50


@cache
def guide() -> Guide:
    overlay = overlay_of(str(ROOT / "examples" / "trials" / "fixed-lengths.toml"))
    player = Player(hand=Hand.RIGHT, longest_club_in=45.0, club=Club.IRON)
    course = read_course(ROOT / "examples" / "courses" / "thimble-moor.geojson")
    return guide_trial(course, read_book(base_of(overlay)), overlay, player=player, each=1, procedures=())


FRAMES = {
    "A4": A4_FRAME,
    "A4, low": paper_frame(88.0, 34.0),
    "A4, high": paper_frame(88.0, 112.0),
    "leaflet": paper_frame(89.0, 45.0),
    "half a screen": HALF,
    "half a screen, low": replace(HALF, height=104.0),
    "phone": PHONE,
    "step": STEP,
}


@pytest.mark.parametrize("name", FRAMES)
def test_every_word_of_a_guide_frame_is_whole_and_clear(name: str) -> None:
    faults, seen, frame = [], 0, FRAMES[name]
    for page in guide().pages:
        for drawing in drawings_of(page):
            faults += [f"{drawing.name}: {fault}" for fault in faults_of(draw_in(drawing, frame).svg)]
            seen += 1
    assert not faults, "\n".join(faults)
    assert seen > 5


@pytest.mark.parametrize("length", LENGTHS)
def test_every_word_of_a_strip_is_whole_and_clear(length: str) -> None:
    for svg, _ in draw_strip(read_length(length)):
        assert not faults_of(svg)
