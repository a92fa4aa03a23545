"""What a trial adds is read as strictly as the rule data: each part that does not fit is told with its place."""

from __future__ import annotations

import pytest

from marram.core.errors import MarramError, RuleDataError
from marram.rulebook import open_book, packaged_catalogue, read_overlay
from marram.rulebook.book import know_each_other
from marram.rulebook.differences.compare import compare_books, look_up
from marram.rulebook.differences.differences import tell_differences
from marram.rulebook.reading.composition import faults_of_relief
from tests.support.inventions import DIVOT, HEATHER, books, trial

CATALOGUE = packaged_catalogue()
RELIEF = '[change.add."relief.divot-hole-fairway"]\n'


@pytest.mark.parametrize(
    ("right", "wrong", "words"),
    [
        ('shape = "disc"', 'shape = "square"', "relief.divot-hole-fairway: shape is 'square', expected one of none, disc"),
        ("size = { inches = 6 }\n", "", "relief.divot-hole-fairway: no value for size"),
        ("size = { inches = 6 }", 'without = { size = "none" }', "shape disc needs a size"),
        ("size = { inches = 6 }", "size = { ells = 6 }", "size is {'ells': 6}, expected one of { club_lengths"),
        ('title = "Free relief from the divot hole"\n', "", "no value for title: what the relief is called"),
        ("penalty_strokes = 0\n", "", "no value for penalty_strokes"),
        ("penalty_strokes = 0", "penalty_strokes = -1", "penalty_strokes is -1"),
        ('clear_of = ["lie"]\n', "", "reference nearest-point-of-complete-relief needs clear_of"),
        ('shape = "disc"', 'shape = "line"', 'shape line lies on a line: it needs reference = "point-on-line" and line_from'),
        ('reference = "nearest-point-of-complete-relief"', 'reference = "none"', "shape disc is measured from a point"),
        ('put = "place"', 'put = "throw"', "put is 'throw', expected one of drop, place"),
        ('put = "place"', 'colour = "green"', "unknown part 'colour'"),
        ('put = "place"', 'rule = "16.1"', "a row that is added has no rule"),
        ('put = "place"', 'needs = ["in_a_temper"]', "needs is ['in_a_temper']"),
        ('means = "Free relief from a divot hole in the general area."\n', "", "relief.divot-hole-fairway: means is missing"),
        ('"relief.divot-hole-fairway"]', '"relief.lateral"]', "relief.lateral: there is such a row already"),
        ('"relief.divot-hole-fairway"]', '"act.divot-hole"]', "a row that is added is called situation.NAME or relief.NAME"),
        ('["divot-hole-fairway"]', '["divot-hole-faraway"]', "procedures names relief.divot-hole-faraway, and there is no such row"),
        ('conditions = ["divot-hole"]', 'conditions = ["divot"]', "conditions is ['divot'], expected a list of words from immovable"),
        ("[change.conditions.divot-hole]", "[change.conditions.animal-hole]", "there is such a kind of condition already"),
        ("radius_m = 0.08", "radius_m = -1", "conditions.divot-hole, radius_m: -1; expected metres above zero"),
        ('means = "A hole in the turf that a stroke has left."\n', "", "conditions.divot-hole: a table with means"),
        ("[[change]]\n", '[[change]]\nkey = "search.limit_min"\n', "it has add or conditions, and key besides"),
    ],
)
def test_each_part_that_does_not_fit_is_told(right: str, wrong: str, words: str) -> None:
    assert right in DIVOT
    with pytest.raises(RuleDataError) as told:
        trial(DIVOT.replace(right, wrong, 1), "divot")
    assert words in str(told.value)
    assert "change 1" in str(told.value)


def test_the_reliefs_of_the_editions_fit_by_the_same_measure() -> None:
    cells = [cell for row in CATALOGUE.rows.values() if row.id.startswith("relief.") for cell in row.editions.values() if cell.values]
    assert len(cells) > 100
    assert [fault for cell in cells for fault in faults_of_relief(cell.values)] == []


def test_the_books_differ_in_the_rows_added_and_in_nothing_else() -> None:
    for text, name, rows in (
        (DIVOT, "divot", {"situation.divot-hole", "relief.divot-hole-fairway"}),
        (HEATHER, "heather", {"situation.heather", "relief.heather-wide", "relief.heather-line"}),
    ):
        with_it, alone = books(text, name)
        assert {entry.key.rpartition(".")[0] for entry in compare_books(alone, with_it)} == rows
        told = tell_differences((alone, with_it)).told
        assert len(told) == len(rows)
        assert all("not in this book" in entry.sentence for entry in told)


def test_the_rule_data_itself_is_left_as_it_was() -> None:
    with_it, alone = books(DIVOT, "divot")
    plain = open_book("2023", [], CATALOGUE)
    assert alone.stamp == plain.stamp != with_it.stamp
    assert "situation.divot-hole" not in plain.catalogue.rows
    assert look_up(alone, "relief.divot-hole-fairway.size").why_none == "not in this book"
    assert know_each_other((plain, plain)) == (plain, plain)


def test_a_trial_on_top_may_change_what_another_added() -> None:
    first = trial(DIVOT, "divot")
    more = """
    title = "A club-length from divot holes"
    dated = 2026-05-01
    on = ["2023"]
    [[change]]
    key = "relief.divot-hole-fairway.size"
    was = { inches = 6 }
    now = { club_lengths = 1 }
    because = "Six inches are not measured by anybody."
    """
    second = read_overlay(
        more.replace('on = ["2023"]', 'on = ["2023"]\n    after = ["divot"]'), name="more", catalogue=first.laid_in(CATALOGUE)
    )
    book = open_book("2023", [first, second], CATALOGUE)
    assert book.size("relief.divot-hole-fairway.size").value.words == "one club-length"
    with pytest.raises(RuleDataError, match="no such key"):
        read_overlay(more, name="more", catalogue=CATALOGUE)
    with pytest.raises(MarramError, match="written for 2023"):
        open_book("2019", [first], CATALOGUE)


def test_one_relief_may_be_added_to_a_situation_that_there_is() -> None:
    was = list(open_book("2023", [], CATALOGUE).words("situation.unplayable.procedures").value)
    text = DIVOT.partition("[change.conditions")[0] + RELIEF + DIVOT.partition(RELIEF)[2].replace('"lie"', '"lie"')
    text = text.replace('reference = "nearest-point-of-complete-relief"\nclear_of = ["lie"]', 'reference = "ball-spot"')
    text += f"""
    [[change]]
    key = "situation.unplayable.procedures"
    was = {was}
    now = {[*was, "divot-hole-fairway"]}
    because = "It may be taken there too."
    """
    book = open_book("2023", [trial(text, "unplayable")], CATALOGUE)
    assert book.words("situation.unplayable.procedures").value[-1] == "divot-hole-fairway"
