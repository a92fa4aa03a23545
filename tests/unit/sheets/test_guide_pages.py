"""The pages of the guide as they lie on the table: full, true to their scale, in words that players understand, readable on each screen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

import pypdfium2
import pytest

from marram.core.terms import Club, Hand
from marram.interchange.books.book_files import overlay_of, read_book
from marram.office.trials.make_guide import guide_procedures, guide_trial, tell_trial
from marram.rulebook import Overlay, packaged_catalogue, read_overlay
from marram.rulings.case.incident import Player
from marram.sheets.guide.content import Guide
from marram.sheets.guide.leaflet import leaflet_steps
from marram.sheets.guide.paper import Form, set_guide, template
from marram.sheets.guide.screen import PHONE, Screen, guide_html
from marram.sheets.scene.palette import PRINT
from marram.sheets.scene.style import drawing_classes, tokens_of
from tests.support.browser import run_out, run_under_foot
from tests.support.ground import course, pond
from tests.support.pdf_reading import POINT_MM, paths_mm, words_of, words_outside
from tests.support.visible_text import VisibleText

_EXAMPLES = Path(__file__).parents[3] / "examples" / "trials"
_PLAYER = Player(hand=Hand.RIGHT, longest_club_in=45.0, club=Club.IRON)
_SHOWN = ("penalty-area-lateral-red", "unplayable-lateral")
_PAPER: tuple[Form, ...] = ("a4", "pocket")
_SCREENS: tuple[Screen, ...] = ("phone", "screen")
_MANY = (
    ("search.limit_min", "3", "2"),
    ("overhanging-ball-wait.wait_s", "10", "20"),
    ("drop-height.height", '"knee-as-when-standing"', '"shoulder"'),
    ("relief.lateral.size", "{ club_lengths = 2 }", "{ metres = 2 }"),
    ("clubs-max.max_clubs", "14", "10"),
    ("stroke-time-recommended.recommended_s", "40", "30"),
    ("general-penalty.strokes", "2", "1"),
    ("late-start-window.late_min", "5", "10"),
    ("teeing-area.may_stand_outside", "true", "false"),
    ("integral-object.counts_as_immovable", "true", "false"),
    ("bunker.bare_face_included", "false", "true"),
    ("drops-before-placing.drops", "2", "1"),
)


def _trial(changes: tuple[tuple[str, str, str], ...], because: str = "To try it.") -> Overlay:
    tables = (f'[[change]]\nkey = "{key}"\nwas = {was}\nnow = {now}\nbecause = "{because}"\n' for key, was, now in changes)
    return read_overlay("\n".join(['title = "A trial"', "dated = 2026-03-01", *tables]), name="trial", catalogue=packaged_catalogue())


@lru_cache
def _guide(name: str) -> Guide:
    """The guide of an example, or of so many changes, at a pond and on open ground."""
    overlay = overlay_of(str(_EXAMPLES / f"{name}.toml")) if not name.isdigit() else _trial(_MANY[: int(name)])
    return guide_trial(course(pond()), read_book("2023"), overlay, player=_PLAYER, each=1, procedures=_SHOWN)


@lru_cache
def _pdf(name: str, form: Form) -> bytes:
    return set_guide(_guide(name), form)


_GUIDES = ("four-changes", "fixed-lengths", "1", "12")


# True to scale -------------------------------------------------------------------------------------------------------

_BAR_HIGH_MM, _WITHIN_MM = 5 * 0.27, 0.03


def _bar_halves_mm(pdf: bytes, page: int) -> list[float]:
    """Lengths of the halves of every scale bar of a page, by their height."""
    found = []
    for path in paths_mm(pdf, page):
        xs, ys = [x for x, _ in path], [y for _, y in path]
        wide_mm, high_mm = max(xs) - min(xs), max(ys) - min(ys)
        if len(path) in {4, 5} and abs(high_mm - _BAR_HIGH_MM) < _WITHIN_MM and wide_mm > 2:
            found.append(round(wide_mm, 2))
    return found


@pytest.mark.parametrize("name", ["four-changes", "fixed-lengths"])
def test_a_metre_is_ten_millimetres_at_1_to_100_on_paper(name: str) -> None:
    """Read back from the print: half of a bar of L metres at 1:n is L / 2 · 1000 / n millimetres, so 1 m is 10.00 mm at 1:100."""
    pdf, told = _pdf(name, "a4"), 0
    document = pypdfium2.PdfDocument(pdf)
    for number in range(1, len(document)):  # the plan on the first page has signs of every size
        words = re.sub(r"\s+", " ", document[number].get_textpage().get_text_range())
        stated = [float(metres) / 2 * 1000 / int(scale) for metres, scale in re.findall(r"([\d.]+) m 1:(\d+)", words)]
        assert stated
        halves = sorted(_bar_halves_mm(pdf, number))
        assert halves == pytest.approx(sorted(2 * stated), abs=0.02)
        told += len(stated)
    assert told >= 2 * len(_guide(name).pages)


def test_the_leaflet_keeps_the_scale_that_its_drawings_state() -> None:
    pdf = _pdf("fixed-lengths", "pocket")
    # Panels that stand on their heads are read back to front; what is read upright is held against its bars.
    for number in range(len(pypdfium2.PdfDocument(pdf))):
        words = re.sub(r"\s+", " ", pypdfium2.PdfDocument(pdf)[number].get_textpage().get_text_range())
        stated = {round(float(metres) / 2 * 1000 / int(scale), 2) for metres, scale in re.findall(r"([\d.]+) m 1:(\d+)", words)}
        assert stated
        halves = set(_bar_halves_mm(pdf, number))
        assert all(any(abs(half - told) < 0.02 for half in halves) for told in stated)


# Full pages ----------------------------------------------------------------------------------------------------------


def _bands_mm(pdf: bytes, page: int) -> Iterator[float]:
    """How high each band of a page is in which nothing stands, between its uppermost and its lowest mark."""
    text = pypdfium2.PdfDocument(pdf)[page].get_textpage()
    boxes = [text.get_rect(each) for each in range(text.count_rects())]
    taken = [(bottom * POINT_MM, top * POINT_MM) for _, bottom, _, top in boxes]
    taken += [(min(y for _, y in path), max(y for _, y in path)) for path in paths_mm(pdf, page)]
    inside = sorted((max(low, 0.0), min(high, 297.0)) for low, high in taken if high > 0 and low < 297)
    reached = inside[0][0]
    for low, high in inside:
        yield max(0.0, low - reached)
        reached = max(reached, high)


@pytest.mark.parametrize("name", ["four-changes", "fixed-lengths", "1"])
@pytest.mark.parametrize("form", _PAPER)
def test_no_page_has_an_empty_band(name: str, form: Form) -> None:
    pdf = _pdf(name, form)
    pages = len(pypdfium2.PdfDocument(pdf))
    guide = _guide(name)
    assert pages == (1 + 2 * len(guide.pages) if form == "a4" else len(guide.pages))
    for number in range(pages):
        most_mm = 60.0 if name == "1" and number == 0 else 25.0  # one change on the first page leaves more than its plan fills
        assert max(_bands_mm(pdf, number)) < most_mm, (number, max(_bands_mm(pdf, number)))
    assert words_outside(pdf) == []


def test_the_leaflet_tells_every_step_in_four_frames() -> None:
    for page in _guide("fixed-lengths").pages:
        assert len(page.steps) == 5
        steps = leaflet_steps(page)
        assert len(steps) == 4
        assert [words for step in steps for words in step.words] == [words for step in page.steps for words in step.words]


# In words ------------------------------------------------------------------------------------------------------------

_RAW = ("→", "->", "unofficial only", "from memory", "seen in", "2023+", "inferred", "None", "_", "pond-7", "knee-as")


@pytest.mark.parametrize("name", _GUIDES)
def test_no_sheet_for_players_speaks_in_keys_or_tells_where_a_rule_was_seen(name: str) -> None:
    guide = _guide(name)
    said = [words_of(_pdf(name, form)) for form in _PAPER]
    said += [" ".join(VisibleText(guide_html(guide, form)).words) for form in _SCREENS]
    keys = [change.key for change in guide.changes]
    for told in said:
        for raw in (*_RAW, *keys):
            assert raw not in told, (raw, told[max(0, told.find(raw) - 60) : told.find(raw) + 60])
    for told in (said[0], said[2], said[3]):
        assert all(change.heading in told for change in guide.changes)


def test_the_answer_for_officials_keeps_what_was_not_seen_in_print() -> None:
    pages = _guide("four-changes").pages
    assert any("From memory" in words or "from memory" in words for page in pages for words in page.seen_words)
    assert all(rule.provenance for page in pages for rule in page.sources)
    assert not any("memory" in words for page in pages for words in page.trust)


def test_a_page_of_one_book_compares_nothing() -> None:
    guide = guide_procedures(course(pond()), [read_book("2023")], ["penalty-area-lateral-red"], player=_PLAYER)
    (page,) = guide.pages
    assert page.before is None
    assert {before for _, before, _ in page.compared} == {"–"}
    for form in _PAPER:
        assert "What is forbidden" in words_of(set_guide(guide, form))


@pytest.mark.parametrize("count", [1, 4, 12])
def test_the_sheet_of_a_trial_in_words_alone_holds_every_heading(count: int) -> None:
    told = tell_trial(read_book("2023"), _trial(_MANY[:count]))
    words = words_of(set_guide(told, "a4"))
    assert all(change.heading in words for change in told.changes)
    assert [change.sheets for change in told.changes] == [()] * count


# On screens ----------------------------------------------------------------------------------------------------------


def test_a_label_of_a_drawing_is_16_px_high_on_a_phone() -> None:
    """358 px lie between the edges of a phone of 390; a drawing of the width stated fills them."""
    usual = re.search(r"\.drawing \.lab\{font-size:(\d+)px", drawing_classes())
    assert usual is not None
    assert int(usual[1]) * 358 / PHONE.width >= 16


def test_no_caption_on_a_phone_is_smaller_than_16_px() -> None:
    style = template("guide-base.html") + template("guide-phone.html")
    sizes = [float(size) for size in re.findall(r"(?:font-size|font):\s*(?:\w+ )?([\d.]+)px", style)]
    assert len(sizes) >= 8
    assert min(sizes) >= 16


@pytest.mark.parametrize("form", _SCREENS)
def test_a_page_is_printed_without_colour(form: Screen) -> None:
    assert f"@media print{{{tokens_of(PRINT)}}}" in guide_html(_guide("fixed-lengths"), form)


@pytest.mark.browser
@pytest.mark.parametrize("name", _GUIDES)
@pytest.mark.parametrize(("width_px", "height_px"), [(1280, 800), (1280, 720), (1920, 1080)])
def test_nothing_runs_under_the_foot_of_a_big_screen(tmp_path: Path, name: str, width_px: int, height_px: int) -> None:
    made = tmp_path / "screen.html"
    made.write_text(guide_html(_guide(name), "screen"), encoding="utf-8")
    assert run_under_foot(made, width_px, height_px) == []


@pytest.mark.browser
@pytest.mark.parametrize("width_px", [390, 320])
def test_the_phone_page_is_no_wider_than_the_phone(tmp_path: Path, width_px: int) -> None:
    made = tmp_path / "phone.html"
    made.write_text(guide_html(_guide("four-changes"), "phone"), encoding="utf-8")
    assert run_out(made, width_px) == []
