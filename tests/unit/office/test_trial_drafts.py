"""A trial written step by step: rules found in words, fields by kind, what a change touches, and a file that stays whole."""

from __future__ import annotations

from datetime import date

import pytest

from marram.core.errors import RuleDataError
from marram.interchange.books.value_text import read_written
from marram.office.drafts.change_filled import Filled, read_change
from marram.office.drafts.offered_cases import offer_cases, typed_cases
from marram.office.drafts.offered_field import FieldKind, is_changeable, offer_field
from marram.office.drafts.plan_filled import FilledPlan, read_plan_filled
from marram.office.drafts.rule_found import find_rules
from marram.office.drafts.trial_kept import aims_of, begin_trial, keep_trial, moved_change, with_change, without_change
from marram.office.drafts.what_it_touches import one_change, touches_of
from marram.office.trials.draft_trial import check_trial
from marram.rulebook.book import open_book
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.values import PartType

CATALOGUE = packaged_catalogue()
BOOK = open_book("2023", [], CATALOGUE)
FOUND = {
    "how long may a ball be looked for": "search.limit_min",
    "search time": "search.limit_min",
    "height of the drop": "drop-height.height",
    "how long may a player wait for an overhanging ball": "overhanging-ball-wait.wait_s",
    "penalty for playing a wrong ball": "act.wrong-ball.cases",
    "too many clubs": "act.too-many-clubs.cases",
    "lateral relief size": "relief.lateral.size",
    "double hit": "act.double-hit.cases",
    "relief from a cart path": "relief.immovable-obstruction-general-area.size",
    "18.2a(1)": "search.limit_min",
}
"""Questions, and the key that somebody who asks so means; written down before the finder was asked."""


@pytest.mark.parametrize(("words", "key"), FOUND.items())
def test_a_rule_is_found_in_words(words: str, key: str) -> None:
    assert key in [hit.key for hit in find_rules(BOOK, words)][:3]


def test_a_red_edge_is_found_among_the_first() -> None:
    assert "relief.penalty-area-lateral-red.size" in [hit.key for hit in find_rules(BOOK, "how far from a red edge may one drop")]


def test_a_key_is_found_as_it_is_typed_and_nonsense_finds_nothing() -> None:
    assert [hit.key for hit in find_rules(BOOK, " search.limit_min ")] == ["search.limit_min"]
    assert find_rules(BOOK, "qqqq zzzz") == ()
    assert find_rules(BOOK, "") == ()


def test_every_key_of_the_book_offers_a_field_that_takes_what_it_holds() -> None:
    kinds, count = set[FieldKind](), 0
    for key, (_, spec) in CATALOGUE.keys.items():
        if not is_changeable(BOOK, key):
            continue
        count += 1
        field = offer_field(BOOK, key)
        kinds.add(field.kind)
        held = BOOK.cited(key).value
        assert read_written(field.holds, spec, CATALOGUE) == (held, ""), key
        if spec.type in {PartType.WORD, PartType.YES_NO}:
            assert [offer.value for offer in field.offers if offer.is_held] == [field.holds], key
        if spec.type in {PartType.WORDS, PartType.ROWS}:
            assert tuple(offer.value for offer in field.offers if offer.is_held) == held, key
        if field.kind is FieldKind.CASES:
            parts = {(at, part.name): part.value for at, case in enumerate(offer_cases(field.cases)) for part in case.parts}
            assert read_written(typed_cases(field.cases, parts, (), ""), spec, CATALOGUE) == (held, ""), key
    assert kinds == set(FieldKind)
    assert count > 4000


def test_a_case_is_changed_added_and_taken_out() -> None:
    field = offer_field(BOOK, "act.double-hit.cases")
    typed = typed_cases(field.cases, {(len(field.cases) - 1, "strokes"): "3"}, (), "by_accident")
    value, fault = read_written(typed, CATALOGUE.find_key("act.double-hit.cases")[1], CATALOGUE)
    assert not fault
    assert value[-1].strokes == 3  # type: ignore[index, union-attr]
    assert value[-2].when == ("by_accident",)  # type: ignore[index, union-attr]
    again, _ = read_written(typed_cases(value, {}, (len(field.cases) - 1,), ""), CATALOGUE.find_key("act.double-hit.cases")[1], CATALOGUE)  # type: ignore[arg-type]
    assert len(again) == len(field.cases)  # type: ignore[arg-type]


def test_the_last_case_is_never_taken_out() -> None:
    field = offer_field(BOOK, "act.double-hit.cases")
    typed = typed_cases(field.cases, {}, tuple(range(len(field.cases))), "")
    value, _ = read_written(typed, CATALOGUE.find_key("act.double-hit.cases")[1], CATALOGUE)
    assert len(value) == 1  # type: ignore[arg-type]
    assert value[0].when == ()  # type: ignore[index, union-attr]


def test_lateral_relief_touches_what_rule_19_2c_and_17_1d_measure_by_it() -> None:
    # Rules of Golf 2023, Rules 17.1d(3) and 19.2c: both lateral reliefs are two club-lengths, by one size of this rule data.
    touches = touches_of(BOOK, one_change(BOOK, {"key": "relief.lateral.size", "now": {"club_lengths": 1}}))
    assert {"penalty-area-lateral-red", "unplayable-lateral"} <= set(touches.procedure_names)
    assert {"penalty-area", "unplayable"} <= set(touches.situation_names)
    assert (touches.before, touches.now) == ("two club-lengths", "one club-length")
    assert touches.follows == ""


def test_one_lateral_relief_leaves_the_other_and_says_so() -> None:
    touches = touches_of(BOOK, one_change(BOOK, {"key": "relief.unplayable-lateral.size", "now": {"club_lengths": 1}}))
    assert touches.procedure_names == ("unplayable-lateral",)
    assert touches.follows == "relief.lateral.size"
    assert "relief.penalty-area-lateral-red.size" in [left.key for left in touches.left]
    assert all("two club-lengths" in left.says for left in touches.left)
    assert "relief.unplayable-lateral.size" not in [left.key for left in touches.left]


def test_a_change_that_cannot_be_read_is_told() -> None:
    with pytest.raises(RuleDataError, match="limit_min"):
        one_change(BOOK, {"key": "search.limit_min", "now": "long"})


FILLED = Filled(key="search.limit_min", now="2 minutes", because="Long enough.")


def test_a_filled_change_is_read() -> None:
    read = read_change(BOOK, FILLED)
    assert read.faults == {}
    assert read.members == {"key": "search.limit_min", "was": 3, "now": 2, "because": "Long enough."}


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"now": "abc"}, "now"),
        ({"now": "-1"}, "now"),
        ({"now": "2 club-lengths"}, "now"),
        ({"now": "3"}, "now"),
        ({"now": ""}, "now"),
        ({"because": " "}, "because"),
        ({"because": "x\x07y"}, "because"),
        ({"aim": "x" * 3000}, "aim"),
        ({"asks": ("a\u202eb",)}, "asks"),
        ({"outcome": "search_s", "matters": "many"}, "matters"),
        ({"outcome": "search_s", "matters": "0"}, "matters"),
        ({"outcome": "search_s", "matters": "nan"}, "matters"),
        ({"outcome": "ball_found", "matters": "10"}, "matters"),
        ({"outcome": "no-such", "matters": "1"}, "matters"),
        ({"matters": "5"}, "outcome"),
        ({"outcome": "search_s", "matters": "5", "direction": "sideways"}, "direction"),
        ({"guards": (("strokes", "-1", ""),)}, "guard.0.margin"),
        ({"guards": (("", "2", ""),)}, "guard.0.outcome"),
        ({"outcome": "strokes", "matters": "1", "guards": (("strokes", "1", ""),)}, "guard.0.outcome"),
    ],
)
def test_nonsense_is_told_beside_its_field(change: dict[str, object], field: str) -> None:
    from dataclasses import replace

    faults = read_change(BOOK, replace(FILLED, **change)).faults  # type: ignore[arg-type]
    assert list(faults) == [field]
    assert faults[field].endswith(".")


def test_what_a_form_has_no_field_for_is_kept_and_a_stale_value_only_on_demand() -> None:
    before = {"key": "search.limit_min", "was": 5, "now": 2, "because": "Old.", "later": "kept"}
    read = read_change(BOOK, FILLED, before)
    assert (read.members["was"], read.members["later"]) == (5, "kept")
    from dataclasses import replace

    assert read_change(BOOK, replace(FILLED, is_anew=True), before).members["was"] == 3


def test_a_trial_is_begun_filled_and_checks_clean() -> None:
    text = begin_trial('Short "search"', date(2026, 3, 1), ("2023",), ["Less waiting.", " "])
    kept = keep_trial(text, name="short", catalogue=CATALOGUE)
    assert (kept.changes, kept.faults, kept.edition) == ((), (), "2023")
    assert not kept.is_whole
    assert aims_of(text) == ("Less waiting.",)
    filled = Filled(
        key="search.limit_min", now="2", because="Enough.", aim="Less waiting.", asks=("Enough?",), outcome="search_s", matters="15"
    )
    text = with_change(kept, 0, read_change(BOOK, filled).members)
    kept = keep_trial(text, name="short", catalogue=CATALOGUE)
    assert kept.is_whole
    assert check_trial(kept.trial) == ()
    assert kept.faults == ()


def test_a_stale_trial_is_told_beside_its_change() -> None:
    text = begin_trial("Old", date(2026, 3, 1), ("2023",), ())
    kept = keep_trial(text, name="old", catalogue=CATALOGUE)
    members = {"key": "search.limit_min", "was": 5, "now": 4, "because": "x"}
    kept = keep_trial(with_change(kept, 0, members), name="old", catalogue=CATALOGUE)
    assert any(fault.stops and "5" in fault.message and "3" in fault.message for fault in kept.faults_of(1))


def test_unreadable_changes_are_told_beside_their_numbers() -> None:
    text = (
        begin_trial("Odd", date(2026, 3, 1), ("2023",), ()) + '\n[[change]]\nkey = "search.limit_min"\nwas = 3\nnow = "x"\nbecause = "y"\n'
    )
    kept = keep_trial(text, name="odd", catalogue=CATALOGUE)
    assert not kept.is_whole
    assert kept.faults_of(1)[0].message.startswith("now: ")
    assert kept.titles(BOOK) == (("search.limit_min", ""),)


def test_changes_are_moved_and_taken_out_by_number() -> None:
    text = begin_trial("Three", date(2026, 3, 1), ("2023",), ())
    for key, was, now in (("search.limit_min", 3, 2), ("overhanging-ball-wait.wait_s", 10, 20), ("clubs-max.max_clubs", 14, 10)):
        kept = keep_trial(text, name="three", catalogue=CATALOGUE)
        text = with_change(kept, 0, {"key": key, "was": was, "now": now, "because": "x"})
    kept = keep_trial(text, name="three", catalogue=CATALOGUE)
    moved = keep_trial(moved_change(kept, 3, 1), name="three", catalogue=CATALOGUE)
    assert [change["now"] for change in moved.changes] == [10, 2, 20]
    assert [change["now"] for change in keep_trial(without_change(moved, 2), name="three", catalogue=CATALOGUE).changes] == [10, 20]
    for number in (0, 4):
        with pytest.raises(RuleDataError, match="no change"):
            without_change(kept, number)


def test_pairs_that_weather_takes_are_told_in_per_cent_and_kept_as_a_part_of_one() -> None:
    trial = keep_trial(begin_trial("T", date(2026, 3, 1), ("2023",), ()), name="t", catalogue=CATALOGUE).trial
    asked, spread, faults = read_plan_filled(trial, FilledPlan(seed="s", pairs="12", lost_pct="20", spreads={"search_s": "9,5"}))
    assert faults == {}
    assert asked is not None
    assert (asked.pairs, spread.lost, spread.sd) == (12, 0.2, {"search_s": 9.5})
