"""The guide: what it says, what it draws, and that its files can be read by people and by screen readers."""

from __future__ import annotations

import re
from functools import lru_cache
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pypdfium2
import pytest

from marram.core.terms import Club, Hand
from marram.interchange.books.book_files import overlay_of, read_book
from marram.interchange.courses.course_geojson import read_course
from marram.office.trials.make_guide import base_of, guide_procedures, guide_trial, tell_trial
from marram.rulings.case.incident import Player
from marram.sheets.guide.content import ADVICE, Guide, GuideDrawing
from marram.sheets.guide.frames import Frame, choose_window, draw_in, needed, paper_frame
from marram.sheets.guide.paper import drawings_of, set_guide
from marram.sheets.guide.screen import HALF, PHONE, STEP, guide_html

_ROOT = Path(__file__).parents[3]
_TRIAL = str(_ROOT / "examples" / "trials" / "fixed-lengths.toml")
_COURSE = _ROOT / "examples" / "courses" / "thimble-moor.geojson"
PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45.0, club=Club.IRON)


@lru_cache
def _guide() -> Guide:
    overlay = overlay_of(_TRIAL)
    return guide_trial(read_course(_COURSE), read_book(base_of(overlay)), overlay, player=PLAYER, each=1, procedures=())


def test_each_change_is_told_and_shown() -> None:
    guide = _guide()
    assert [change.number for change in guide.changes] == [1, 2]
    assert [page.lead for page in guide.pages] == [
        ("Change 1: two metres instead of two club-lengths.",),
        ("Change 2: one metre instead of one club-length.",),
    ]
    assert guide.changes[0].before == "Two club-lengths"
    assert guide.changes[0].now == "2 metres"
    assert "Lateral relief" in guide.changes[0].procedures
    assert guide.changes[0].heading == "Two metres instead of two club-lengths"
    assert guide.changes[0].touches == (
        "Touches drop near where the ball was lost or left the course, lateral relief and relief on the opposite side."
    )
    assert guide.changes[1].touches.startswith("Touches 2")
    assert [change.sheets for change in guide.changes] == [(1,), (2,)]
    assert [change.not_shown for change in guide.changes] == ["", ""]
    assert not guide.not_shown


def test_before_and_now_differ_where_the_trial_differs() -> None:
    page = _guide().pages[0]
    assert page.before is not None
    before, now = dict(page.before.rows), dict(page.now.rows)
    assert now["Length"] == "2 metres"
    assert before["Length"].startswith("two club-lengths")
    assert before["Penalty"] == now["Penalty"] == "one penalty stroke"
    assert float(before["Ground here"].split()[0]) > float(now["Ground here"].split()[0])


def test_something_stays_forbidden_and_each_line_has_its_rule() -> None:
    for page in _guide().pages:
        assert page.stays
        assert all(line.rules for line in page.stays)
        assert not page.newly
        assert not page.no_longer


def test_the_steps_run_from_the_point_to_the_drops() -> None:
    page = _guide().pages[0]
    titles = [step.title for step in page.steps]
    assert titles == ["Find the point", "Measure", "The ground to drop in", "A drop that counts", "Drops that do not"]
    assert [step.number for step in page.steps] == [1, 2, 3, 4, 5]


def test_what_an_edition_newly_forbids_or_frees_is_told() -> None:
    course = read_course(_COURSE)
    guide = guide_procedures(course, [read_book("draft-2017"), read_book("2023")], ["penalty-area-lateral-red"], player=PLAYER)
    (page,) = guide.pages
    assert any("touches a person" in line.text for line in page.newly)
    assert not {line.text for line in page.newly} & {line.text for line in page.stays}
    back = guide_procedures(course, [read_book("2023"), read_book("draft-2017")], ["penalty-area-lateral-red"], player=PLAYER)
    assert any("touches a person" in line.text for line in back.pages[0].no_longer)


def test_what_cannot_be_shown_says_why() -> None:
    guide = guide_procedures(read_course(_COURSE), [read_book("2023")], ["preferred-lies"], player=PLAYER)
    assert not guide.pages
    assert "local rule" in guide.not_shown[0]


_FRAMES = (paper_frame(88.0, 56.0), paper_frame(88.0, 101.3), paper_frame(89.0, 34.0), PHONE, HALF, STEP)


@pytest.mark.parametrize("frame", _FRAMES, ids=str)
def test_drawings_are_sound_and_true_to_their_scale_in_every_frame(frame: Frame) -> None:
    drawings = [drawing for page in _guide().pages for drawing in drawings_of(page)]
    assert len({drawing.name for drawing in drawings}) == len(drawings)
    for drawing in drawings:
        assert drawing.alt
        picture = draw_in(drawing, frame)
        root = ElementTree.fromstring(picture.svg)
        assert float(root.attrib["width"].removesuffix("mm")) == pytest.approx(picture.width, abs=0.001)
        assert float(root.attrib["height"].removesuffix("mm")) == pytest.approx(picture.height, abs=0.001)
        stated = re.search(r">1:(\d+)<", picture.svg)
        assert (stated is not None) is frame.is_paper
        if stated is not None:
            assert int(stated[1]) == picture.scale
            assert picture.scale in {20, 25, 40, 50, 75, 100, 150, 200, 250, 300, 400, 500}


def test_before_and_now_stand_at_one_scale_in_every_frame() -> None:
    for page in _guide().pages:
        assert page.before is not None
        assert page.before.drawing is not None
        assert page.now.drawing is not None
        for frame in _FRAMES:
            before, now = (choose_window(side.places, frame, side.room) for side in (page.before.drawing, page.now.drawing))
            assert before == now


@pytest.mark.parametrize("frame", _FRAMES, ids=str)
def test_a_window_holds_its_places_and_the_next_larger_scale_would_not(frame: Frame) -> None:
    for drawing in (drawing for page in _guide().pages for drawing in drawings_of(page)):
        window, units_per_m = choose_window(drawing.places, frame, drawing.room)
        least_x, least_y, most_x, most_y = window.bounds
        assert all(least_x <= place.x_m <= most_x and least_y <= place.y_m <= most_y for place in drawing.places)
        larger = [scale for scale in frame.scales if scale > units_per_m]
        (wide_m, high_m), _ = needed(drawing.places, drawing.room)
        assert all(wide_m * scale > frame.width or high_m * scale > frame.height for scale in larger)


@pytest.mark.parametrize("form", ["a4", "pocket"])
def test_the_printed_guide_can_be_read_aloud(form: str) -> None:
    made = set_guide(_guide(), form)  # type: ignore[arg-type]
    assert made == set_guide(_guide(), form)  # type: ignore[arg-type]
    document = pypdfium2.PdfDocument(made)
    words = " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in document)
    assert b"pdfuaid" in made or b"StructTreeRoot" in made
    assert ADVICE in words
    assert "Lateral relief" in words
    assert "forbidden" in words.lower()
    assert _guide().stamp in words
    assert len(document) == {"a4": 1 + 2 * len(_guide().pages), "pocket": len(_guide().pages)}[form]


def test_the_sheet_of_a_trial_needs_no_course() -> None:
    overlay = overlay_of(_TRIAL)
    document = pypdfium2.PdfDocument(set_guide(tell_trial(read_book("2019"), overlay), "a4"))
    assert len(document) == 1
    assert "Two metres instead of two club-lengths" in document[0].get_textpage().get_text_range()


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.pictures: list[str] = []
        self.headings: list[int] = []
        self.links: list[str] = []
        self.lang = ""
        self.is_title = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "html":
            self.lang = given.get("lang") or ""
        if tag == "svg":
            assert given.get("role") == "img"
            self.pictures.append("")
        self.is_title = tag == "title"
        if re.fullmatch(r"h\d", tag):
            self.headings.append(int(tag[1]))
        self.links += [value for name in ("href", "src") if (value := given.get(name))]

    def handle_data(self, data: str) -> None:
        if self.is_title and self.pictures and not self.pictures[-1]:
            self.pictures[-1] = data


def _in_order(form: str) -> list[GuideDrawing]:
    """The drawings of a page: the phone shows what holds now first and the plan last, the screen the plan on its first frame."""
    plan = _guide().plan
    plans = [plan] if plan is not None else []
    if form == "screen":
        return [*plans, *(drawing for page in _guide().pages for drawing in drawings_of(page))]
    turned = [[sides[1], sides[0], *sides[2:]] for sides in map(drawings_of, _guide().pages)]
    return [*(drawing for page in turned for drawing in page), *plans]


@pytest.mark.parametrize("form", ["phone", "screen"])
def test_the_page_stands_alone_and_describes_its_pictures(form: str) -> None:
    page = _Page()
    text = guide_html(_guide(), form)  # type: ignore[arg-type]
    page.feed(text)
    assert page.lang == "en"
    assert page.pictures
    assert page.pictures == [drawing.alt for drawing in _in_order(form)]
    assert all(link.startswith("#") for link in page.links)
    assert ADVICE in text
    assert text == guide_html(_guide(), form)  # type: ignore[arg-type]
    if form == "phone":
        assert page.headings[0] == 1
        assert all(later - earlier <= 1 for earlier, later in zip(page.headings, page.headings[1:], strict=False))
