"""The pages of a report: as many as it takes, each with its foot, nothing beyond the frame, whatever names and sizes there are."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import page
import pypdfium2
import pytest

from marram.evidence.telling.scaled_rows import EffectRow
from marram.office.trials.report_trial import TrialReported, report_file, report_trial
from marram.office.workroom import Workroom
from marram.records.rows import TrialRecords
from tests.support.first_pages import effect_row
from tests.support.pdf_reading import words_of
from tests.support.pdf_structure import structure_faults
from tests.support.seasons import days_of, expecting, rows_of, steady, trial_of

COMMAND = "marram trial report trial.toml --days days.csv --values values.csv"
FRAME_MM, PAGE_MM = (10.2, 199.8), 297.0
ADVICE = "What the records of these days show. Whether a change is adopted is for the Committee to decide."


@lru_cache
def reported(pairs: int = 8) -> TrialReported:
    days = days_of(pairs)
    change = expecting("round_min", 5) | {"guards": '[{ outcome = "strokes", margin = 1.5 }]', "observes": '["round_min", "strokes"]'}
    rows = rows_of(days, "round_min", steady(220, 240)) + rows_of(days, "strokes", steady(90, 90))
    return report_trial(trial_of(change), TrialRecords(days=days, observations=tuple(rows)), None, Workroom().book("2023"))


def with_rows(count: int, sentence: str = "", guards: int = 0) -> TrialReported:
    """The same report with so many rows on its first page."""
    told = ("A round takes ", "1.00 strokes fewer", sentence or " where the rule says “three minutes” and not “two minutes”.")

    def row(number: int, *, is_guard: bool) -> EffectRow:
        made = effect_row(0.3 * number - 1, (0.3 * number - 1.5, 0.3 * number), is_guard=is_guard, changes=(number + 1,))
        return replace(made, sentence=told, limits=f"Limits of row {number}{'g' if is_guard else ''}.", word="Not shown either way")

    base = reported()
    changes = tuple(row(number, is_guard=False) for number in range(count))
    guarded = tuple(row(number, is_guard=True) for number in range(guards))
    return replace(base, first=replace(base.first, changes=changes, guards=guarded))


def outside_frame(pdf: bytes) -> list[str]:
    """Words that stand beyond the frame of their page."""
    found = []
    document = pypdfium2.PdfDocument(pdf)
    for number in range(len(document)):
        text = document[number].get_textpage()
        for place in range(text.count_rects()):
            left, bottom, right, top = (edge * 25.4 / 72 for edge in text.get_rect(place))
            if left < FRAME_MM[0] or right > FRAME_MM[1] or bottom < FRAME_MM[0] or top > PAGE_MM - FRAME_MM[0]:
                found.append(text.get_text_bounded(*text.get_rect(place)))
    return found


def check(report: TrialReported) -> int:
    """Faults of the print; gives the number of its pages."""
    pdf = report_file(report, COMMAND, ".pdf")
    checked = page.validate_pdf_bytes(pdf, profile="ua1")
    assert checked.is_compliant, [failure.message for failure in checked.failures]
    assert structure_faults(pdf) == []
    assert outside_frame(pdf) == []
    document = pypdfium2.PdfDocument(pdf)
    texts = [" ".join(document[number].get_textpage().get_text_range().split()) for number in range(len(document))]
    for number, text in enumerate(texts, start=1):
        assert f"{number} of {len(texts)}" in text
        assert ADVICE in text
        assert "Each number: marram trial report trial.toml" in text
    for row in (*report.first.changes, *report.first.guards):
        (at,) = (number for number, text in enumerate(texts) if row.limits in text)
        assert row.word in texts[at]
    return len(texts)


@pytest.mark.parametrize(("changes", "guards"), [(1, 0), (1, 1), (4, 2), (9, 0), (9, 3), (30, 12)])
def test_every_row_stands_whole_on_some_page(changes: int, guards: int) -> None:
    assert check(with_rows(changes, guards=guards)) >= (1 if changes < 9 else 2)


@pytest.mark.parametrize("changes", [1, 4, 9])
def test_the_first_page_is_filled(changes: int) -> None:
    """No more than a fifth of it is left empty above its foot, whatever follows."""
    document = pypdfium2.PdfDocument(report_file(with_rows(changes, guards=1), COMMAND, ".pdf"))
    text = document[0].get_textpage()
    bottoms = sorted(text.get_rect(place)[1] * 25.4 / 72 for place in range(text.count_rects()))
    body = [bottom for bottom in bottoms if bottom > 21]  # the foot stands below
    assert body[0] < 297 / 5 + 21


@pytest.mark.parametrize(
    "name",
    ["W" * 200, "<b>bold</b> & #strong[x] *_$\\ @cite", "تجربة قاعدة البحث " * 8, "word " * 40, "a" * 33 + "-" + "b" * 300],
    ids=["one word", "markup", "right to left", "many words", "two long words"],
)
def test_names_of_any_kind_stay_within_the_frame(name: str) -> None:
    base = reported()
    trial = replace(base.weighed.trial, title=name)
    first = with_rows(2, sentence=f" {name}.").first
    season = replace(first.season, columns=tuple(replace(column, is_held=False, reason=name) for column in first.season.columns[:4]))
    named = replace(base, weighed=replace(base.weighed, trial=trial), first=replace(first, about=f"{name}: one change.", season=season))
    check(named)
    html = report_file(named, COMMAND, ".html").decode()
    assert "<b>bold</b>" not in html


def test_a_look_before_the_end_is_marked_on_page_and_print() -> None:
    base = reported()
    marked = replace(base, first=replace(base.first, mark="Interim look 2 of 3"))
    assert "Interim look 2 of 3" in words_of(report_file(marked, COMMAND, ".pdf"))
    assert '<span class="mark">Interim look 2 of 3</span>' in report_file(marked, COMMAND, ".html").decode()


def test_a_long_command_is_cut_in_the_foot_and_whole_at_the_end() -> None:
    long = f"{COMMAND} --asked {'x' * 90}.csv --plan plan.json"
    pdf = pypdfium2.PdfDocument(report_file(reported(), long, ".pdf"))
    first = pdf[0].get_textpage().get_text_range()
    assert "…" in first
    told = "".join(words_of(report_file(reported(), long, ".pdf")).split()).replace("\u200b", "")
    assert "".join(long.split()) in told


def test_equal_input_gives_equal_bytes() -> None:
    for form in (".pdf", ".html"):
        assert report_file(reported(), COMMAND, form) == report_file(reported(), COMMAND, form)
