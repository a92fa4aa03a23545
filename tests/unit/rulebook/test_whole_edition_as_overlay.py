"""Two hard tests of overlays: a whole edition as changes on another, and a trial that speaks only in the older terms."""

from __future__ import annotations

from datetime import date

import pytest

from marram.core.errors import RuleDataError, StaleOverlay
from marram.core.terms import Form
from marram.interchange.books.overlay_writing import write_overlay
from marram.rulebook import open_book, packaged_catalogue
from marram.rulebook.differences.compare import compare_books
from marram.rulebook.overlays.overlay import Change, Overlay, Standing, read_overlay
from marram.rulebook.values import ABSENT, Value
from marram.rulebook.wording.explain import term
from marram.rulings.acts.acts import acts_of, rule_on_act
from marram.rulings.acts.form_of_play import Happening, describe_form

CATALOGUE = packaged_catalogue()
EDITIONS = tuple(CATALOGUE.editions)


def as_overlay(base: str, wanted: str) -> Overlay:
    """Everything in which one edition differs from another, as numbered changes on top of it."""
    changes: list[Change] = []
    for key, (row, spec) in CATALOGUE.keys.items():
        was: Value = row.editions[base].values.get(spec.name, ABSENT)
        now: Value = row.editions[wanted].values.get(spec.name, ABSENT)
        if was != now:
            number = len(changes) + 1
            changes.append(Change(number=number, key=key, was=was, now=now, because="As it is there.", standing=Standing.UNOFFICIAL))
    return Overlay(name="whole", title=f"All of {wanted}", dated=date(2017, 3, 1), on=(base,), after=(), changes=tuple(changes))


@pytest.mark.parametrize(("base", "wanted"), [("2016", "draft-2017"), ("draft-2017", "2019"), ("2023", "2016")])
def test_a_whole_edition_laid_on_another_gives_the_same_book(base: str, wanted: str) -> None:
    overlay = read_overlay(write_overlay(as_overlay(base, wanted)), name="whole", catalogue=CATALOGUE)
    laid, own = open_book(base, [overlay], CATALOGUE), open_book(wanted, [], CATALOGUE)
    assert compare_books(laid, own) == ()
    stating = [row.id for row in CATALOGUE.rows.values() if any(cell.values for cell in (row.editions[base], row.editions[wanted]))]
    silent = {row for row in stating if not CATALOGUE.rows[row].editions[wanted].values}  # there, and stating nothing
    assert [row for row in stating if row not in silent and laid.has_row(row) is not own.has_row(row)] == []
    for act in acts_of(CATALOGUE):
        assert rule_on_act(laid, act, {}).case == rule_on_act(own, act, {}).case, act
    for form in Form:
        told = [[line.says for line in describe_form(book, form).lines] for book in (laid, own)]
        assert told[0] == told[1]


OLDER = """
title = "Trial in hazards, told in the older terms"
dated = 2017-05-01
on = ["2016"]
[[change]]
key = "act.penalty-area-ground-club.cases"
was = [{ strokes = 2, hole = "lost", ball = "as-it-lies" }]
now = [{ ball = "as-it-lies" }]
because = "The ground in a water hazard may be touched like any other."
[[change]]
key = "act.loose-impediment-penalty-area.cases"
was = [{ strokes = 2, hole = "lost", ball = "as-it-lies" }]
now = [{ ball = "as-it-lies" }]
because = "A leaf may be taken away wherever it lies."
"""
FORM_PARTS = {
    "counts": '"strokes"', "wins": '"fewest-strokes"', "takes_after": '"stroke-play"', "bears_penalty": '"player"', "may_concede": "false",
    "not_holed_out": '"maximum"', "picked_up": '"maximum"', "lost_ball": '["stroke-and-distance", "maximum"]',
    "hole_ends": '["holed", "chooses-not-to-hole", "maximum-reached"]', "in_doubt": '"second-ball"', "out_of_turn": '"no-penalty"',
}  # fmt: skip


def older() -> Overlay:
    added = "".join(
        f'[[change]]\nkey = "form.maximum-score.{part}"\nwas = {{ absent = true }}\nnow = {value}\nbecause = "A maximum for each hole."\n'
        for part, value in FORM_PARTS.items()
    )
    return read_overlay(OLDER + added, name="older", catalogue=CATALOGUE)


def test_a_trial_keeps_the_older_hazards_and_changes_what_may_be_done_inside() -> None:
    base, book = open_book("2016", [], CATALOGUE), open_book("2016", [older()], CATALOGUE)
    for name in ("penalty_area_red", "penalty_area_yellow", "general_area"):
        assert term(book, name) == term(base, name)
    assert "hazard" in term(book, "penalty_area_red")
    for key in ("red-penalty-area.only_when", "relief.penalty-area-lateral-red.marks", "area-names.hazard_covers_sand_and_water"):
        assert book.cited(key).value == base.cited(key).value
    for act in ("penalty-area-ground-club", "loose-impediment-penalty-area"):
        before, now = rule_on_act(base, act, {}).case, rule_on_act(book, act, {}).case
        assert before is not None and now is not None
        assert (before.strokes, now.strokes) == (2, 0)
    bunker = rule_on_act(book, "loose-impediment-bunker", {}).case
    assert bunker is not None and bunker.strokes == 2


def test_a_trial_adds_a_form_of_play_that_its_edition_does_not_know() -> None:
    base, book = open_book("2016", [], CATALOGUE), open_book("2016", [older()], CATALOGUE)
    assert describe_form(base, Form.MAXIMUM_SCORE).why_none
    told = describe_form(book, Form.MAXIMUM_SCORE)
    assert not told.why_none
    says = {line.happening: line.says for line in told.lines}
    assert says[Happening.PICKED_UP] == "A ball may be picked up: the hole counts as the maximum."
    assert all(line.citations[0].overlay for line in told.lines if line.happening is not Happening.PARTICULARS)


def test_no_value_is_checked_like_any_other() -> None:
    text = 'title = "T"\ndated = 2026-03-01\non = ["2023"]\n[[change]]\nkey = "search.limit_min"\n{}\nbecause = "x"\n'
    stale = read_overlay(text.format("was = { absent = true }\nnow = 2"), name="t", catalogue=CATALOGUE)
    with pytest.raises(StaleOverlay, match="holds 3 min|holds 3"):
        open_book("2023", [stale], CATALOGUE)
    gone = open_book("2023", [read_overlay(text.format("was = 3\nnow = { absent = true }"), name="t", catalogue=CATALOGUE)], CATALOGUE)
    assert not gone.has("search.limit_min")
    with pytest.raises(RuleDataError, match="takes it away"):
        gone.number("search.limit_min")
