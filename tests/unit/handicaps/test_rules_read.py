"""The rules of handicapping as the books hold them; values from the Rules of Handicapping 2020 and 2024, rule by rule."""

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from marram.core.citations import MEMORY
from marram.core.errors import HandicapError, RuleDataError
from marram.handicaps.rules.course_rules import course_handicap_rules, slope_rules
from marram.handicaps.rules.index_rules import index_rules
from marram.handicaps.rules.playing_rules import allowance_for, list_allowances, playing_handicap_rules, plus_gives_from
from marram.handicaps.rules.score_rules import conditions_rules, differential_rules, hole_limit_rules, holes_not_played_rules
from marram.interchange.books.book_files import read_handicap_book
from marram.rulebook import Book, packaged_handicapping
from marram.rulebook.handicap_words import (
    HANDICAP_WORDS,
    FilledBy,
    HalfIndex,
    NineHolesBy,
    PlusGivesFrom,
    Shared,
    TakenFrom,
    Takes,
    TeesDifferBy,
)

EDITIONS = ("2020", "2024")


def numbers(*values: int | Fraction) -> tuple[Fraction, ...]:
    return tuple(map(Fraction, values))


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_number_of_scores_says_how_many_are_averaged(edition: str) -> None:
    # Rules 5.2a and 5.2b: scores on the record, lowest used, adjustment.
    table = {3: (1, 2), 4: (1, 1), 5: (1, 0), 6: (2, 1), 7: (2, 0), 8: (2, 0), 9: (3, 0), 10: (3, 0), 11: (3, 0), 12: (4, 0)}
    table |= {13: (4, 0), 14: (4, 0), 15: (5, 0), 16: (5, 0), 17: (6, 0), 18: (6, 0), 19: (7, 0), 20: (8, 0)}
    rules = index_rules(read_handicap_book(edition)).value
    for scores, used in table.items():
        band = [band for band in rules.bands if band.scores_least <= scores][-1]
        assert numbers(band.lowest, band.subtract) == numbers(*used), scores
    assert rules.bands[0].scores_least == 3
    assert numbers(rules.recent, rules.holes_least, rules.most) == numbers(20, 54, 54)
    assert [numbers(step.under_index_least, step.reduce) for step in rules.exceptional] == [numbers(7, 1), numbers(10, 2)]
    assert (rules.low_index.scores_least, rules.low_index.days) == (20, 365)
    assert numbers(rules.caps.soft_over, rules.caps.soft_kept_share, rules.caps.hard_over) == numbers(3, Fraction(1, 2), 5)


@pytest.mark.parametrize(
    ("edition", "eighteen", "nine", "filled", "nine_by"),
    [
        ("2020", 14, 7, FilledBy.NET_PAR, NineHolesBy.TWO_NINES),
        ("2024", 10, 9, FilledBy.EXPECTED_DIFFERENTIAL, NineHolesBy.EXPECTED_DIFFERENTIAL),
        ("2020+ten-holes-make-eighteen", 10, 9, FilledBy.NET_PAR, NineHolesBy.TWO_NINES),
    ],
)
def test_editions_differ_in_what_makes_a_score(edition: str, eighteen: int, nine: int, filled: FilledBy, nine_by: NineHolesBy) -> None:
    book = read_handicap_book(edition)
    rules = holes_not_played_rules(book).value
    assert (rules.eighteen_least, rules.nine_least, rules.filled_by) == (eighteen, nine, filled)
    assert rules.first_one_more_below == (14 if "+" in edition else 0)
    assert differential_rules(book).value.nine_holes_by is nine_by
    assert differential_rules(book).value.conditions_nine_share == Fraction(1, 2)


@pytest.mark.parametrize("edition", EDITIONS)
def test_limits_of_holes_slopes_and_conditions(edition: str) -> None:
    book = read_handicap_book(edition)
    limits, slope, conditions = hole_limit_rules(book).value, slope_rules(book).value, conditions_rules(book).value
    assert (limits.over_par, limits.no_index_over_par, limits.limited_above, limits.limited_from, limits.limited_over_par) == (
        2,
        5,
        54,
        4,
        5,
    )
    assert (slope.least, slope.standard, slope.most, slope.men_factor, slope.women_factor) == (
        55,
        113,
        155,
        Fraction("5.381"),
        Fraction("4.24"),
    )
    found = numbers(conditions.least, conditions.most, conditions.scores_least, conditions.index_most)
    assert found == numbers(-1, 3, 8, 36)
    assert plus_gives_from(book).value is PlusGivesFrom.HIGHEST_INDEX


@pytest.mark.parametrize(
    ("format_", "pct", "shared", "takes"),
    # Rules of Handicapping 2024, Appendix C; percentages stand for the lowest Course Handicap first.
    [
        ("stroke-play", [95], "each-player", "full"),
        ("stableford", [95], "each-player", "full"),
        ("par-bogey", [95], "each-player", "full"),
        ("maximum-score", [95], "each-player", "full"),
        ("four-ball", [85], "each-player", "full"),
        ("four-ball-stableford", [85], "each-player", "full"),
        ("four-ball-par-bogey", [90], "each-player", "full"),
        ("match-play", [100], "each-player", "off-lowest"),
        ("four-ball-match-play", [90], "each-player", "off-lowest"),
        ("foursomes", [50, 50], "side", "full"),
        ("foursomes-match-play", [50, 50], "side", "off-lowest"),
        ("greensomes", [60, 40], "side", "full"),
        ("chapman", [60, 40], "side", "full"),
        ("best-1-of-4", [75], "each-player", "full"),
        ("best-2-of-4", [85], "each-player", "full"),
        ("best-3-of-4", [100], "each-player", "full"),
        ("all-4-of-4", [100], "each-player", "full"),
        ("best-1-of-4-par-bogey", [75], "each-player", "full"),
        ("best-2-of-4-par-bogey", [80], "each-player", "full"),
        ("best-3-of-4-par-bogey", [90], "each-player", "full"),
        ("all-4-of-4-par-bogey", [100], "each-player", "full"),
        ("scramble-4", [25, 20, 15, 10], "side", "full"),
        ("scramble-3", [30, 20, 10], "side", "full"),
        ("scramble-2", [35, 15], "side", "full"),
        ("total-of-2-match-play", [100], "each-player", "off-lowest"),
    ],
)
def test_allowances_by_format(format_: str, pct: list[int], shared: str, takes: str) -> None:
    allowance = allowance_for(read_handicap_book("2024"), format_).value
    assert [share * 100 for share in allowance.shares] == pct
    assert (allowance.shared, allowance.takes) == (Shared(shared), Takes(takes))
    assert allowance.means.endswith(".")


def test_the_earlier_edition_names_no_scramble_of_three_and_its_allowances_are_from_memory() -> None:
    book = read_handicap_book("2020")
    with pytest.raises(HandicapError, match=r"2020 recommends no allowance for 'scramble-3'.*scramble-2"):
        allowance_for(book, "scramble-3")
    assert {citation.known for citation in allowance_for(book, "four-ball").citations} == {MEMORY}
    assert len(list_allowances(read_handicap_book("2024"))) == len(list_allowances(book)) + 1 == 25


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_course_handicap_adds_rating_less_par_and_keeps_half_an_index(edition: str) -> None:
    book = read_handicap_book(edition)
    rules = course_handicap_rules(book).value
    assert rules.adds_rating_less_par and rules.half_index is HalfIndex.KEPT and rules.standard_slope == 113
    playing = playing_handicap_rules(book).value
    assert (playing.taken_from, playing.tees_differ_by) == (TakenFrom.UNROUNDED_COURSE_HANDICAP, TeesDifferBy.PAR)


def test_half_an_index_is_cited_from_memory_and_only_for_nine_holes() -> None:
    book = read_handicap_book("2024")
    assert MEMORY in {citation.known for citation in course_handicap_rules(book, for_nine=True).citations}
    assert MEMORY not in {citation.known for citation in course_handicap_rules(book).citations}


def test_variants_are_overlays() -> None:
    without_par = read_handicap_book("2020+rating-less-par-left-out")
    assert course_handicap_rules(without_par).value.adds_rating_less_par is False
    assert playing_handicap_rules(without_par).value.tees_differ_by is TeesDifferBy.COURSE_RATING
    assert any(citation.overlay for citation in course_handicap_rules(without_par).citations)
    half = read_handicap_book("2024+half-index-to-a-tenth")
    assert course_handicap_rules(half).value.half_index is HalfIndex.ROUNDED_TO_A_TENTH
    double = read_handicap_book("2020+allowance-of-rounded-handicaps")
    assert playing_handicap_rules(double).value.taken_from is TakenFrom.ROUNDED_COURSE_HANDICAP


def changed(folder: Path, key: str, was: str, now: str) -> Book:
    """The edition of 2024 with one key changed by a file."""
    file = folder / "change.toml"
    change = f'[[change]]\nkey = "{key}"\nwas = {was}\nnow = {now}\nbecause = "To see it."\n'
    file.write_text(f'title = "A change"\ndated = 2024-01-01\non = ["2024"]\n{change}', encoding="utf-8")
    return read_handicap_book(f"2024+{file}")


@pytest.mark.parametrize(
    ("key", "was", "now", "read"),
    [
        ("slope.standard", "113", "0", course_handicap_rules),
        ("slope.men_factor", "5.381", "0", slope_rules),
        ("index-from.20.lowest", "8", "0", index_rules),
        ("index-record.recent", "20", "0", index_rules),
        ("net-double-bogey.over_par", "2", "2.5", hole_limit_rules),
        ("rounding.course-handicap.decimals", "0", "90", course_handicap_rules),
    ],
)
def test_a_value_that_cannot_be_worked_with_is_told_by_its_key(
    tmp_path: Path, key: str, was: str, now: str, read: Callable[[Book], object]
) -> None:
    with pytest.raises(RuleDataError, match=rf"{key}: The book 2024\+change holds {now}"):
        read(changed(tmp_path, key, was, now))


def test_a_book_may_change_any_value(tmp_path: Path) -> None:
    assert index_rules(changed(tmp_path, "index-caps.soft_over", "3", "2.5")).value.caps.soft_over == Fraction(5, 2)
    assert allowance_for(changed(tmp_path, "allowance.greensomes.first_pct", "60", "0"), "greensomes").value.shares == numbers(
        0, Fraction(2, 5)
    )
    assert allowance_for(changed(tmp_path, "allowance.four-ball.first_pct", "85", "87.5"), "four-ball").value.shares == (Fraction(7, 8),)


def test_books_of_handicapping_and_of_play_do_not_mix() -> None:
    with pytest.raises(RuleDataError, match="Known: 2020, 2024"):
        read_handicap_book("2023")
    with pytest.raises(RuleDataError, match="no variant of handicapping 'preferred-lies'"):
        read_handicap_book("2024+preferred-lies")
    with pytest.raises(RuleDataError, match="written for 2020, not for 2024"):
        read_handicap_book("2024+ten-holes-make-eighteen")


def test_every_closed_list_of_the_data_is_one_that_logic_knows() -> None:
    catalogue = packaged_handicapping()
    stated = {**catalogue.forms, **{row.id: row.parts for row in catalogue.rows.values()}}
    assert all(list(stated[name][part].words) == [word.value for word in words] for (name, part), words in HANDICAP_WORDS.items())
    listed = {(name, spec.name) for name, parts in stated.items() for spec in parts.values() if spec.words}
    of_forms = {(row, part) for row in catalogue.rows for parts in catalogue.forms.values() for part in parts}
    assert listed - of_forms == set(HANDICAP_WORDS)
