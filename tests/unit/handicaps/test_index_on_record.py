"""A record followed day by day; every value is worked by hand from Rules 5.2, 5.7, 5.8 and 5.9 of the Rules of Handicapping."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from marram.core.errors import HandicapError
from marram.handicaps.index_on_record import IndexOnRecord, OnRecord, follow_record, reduce_recent
from marram.handicaps.rounding import rounded
from marram.handicaps.rules.index_rules import index_rules
from marram.handicaps.rules.score_rules import differential_rules
from marram.handicaps.score_record import Posted, RoundPosted, post
from marram.interchange.books.book_files import read_handicap_book

BOOK, TWO_NINES = read_handicap_book("2024"), read_handicap_book("2020")
RULES = index_rules(BOOK).value
FIRST = date(2023, 1, 1)


def scores(values: Iterable[str], *, every_days: int = 1, first: date = FIRST) -> list[Posted]:
    return [
        Posted(numbers=(number,), day=first + timedelta(days=number * every_days), holes=18, figure=rounded(Fraction(value), 1))
        for number, value in enumerate(values)
    ]


def indexes(followed: IndexOnRecord) -> list[str]:
    return ["-" if day.index is None else str(float(day.index)) for day in followed.days]


def test_a_new_player_by_the_number_of_scores() -> None:
    # all differentials 10: 3 scores 10 - 2, 4 scores 10 - 1, 5 scores 10, 6 scores 10 - 1, then 10
    assert indexes(follow_record(scores(["10"] * 8), RULES)) == ["-", "-", "8.0", "9.0", "10.0", "9.0", "10.0", "10.0"]


def test_the_caps_are_measured_from_the_lowest_index_of_the_year() -> None:
    # Twenty scores of 10, then of 20, one a day: the Low Index is 8.0, from the third score. Of the last 20, 12 + n lie at 10 until
    # 13 are at 20: (7 x 10 + 20) / 8 = 11.25 -> 11.3, over 8 by 3.3: 8 + 3 + 0.15 = 11.15 -> 11.2. With 14: 12.5 -> 11.75 -> 11.8.
    # With 16: 15 -> 13.0, where the hard cap stands; with 20: 20 -> 13.0.
    followed = follow_record(scores(["10"] * 20 + ["20"] * 20), RULES)
    assert indexes(followed)[19:32] == ["10.0"] * 13
    assert indexes(followed)[32:36] == ["11.2", "11.8", "12.4", "13.0"]
    assert indexes(followed)[39] == "13.0"
    assert followed.days[39].capped is not None and followed.days[39].capped.is_hard
    assert followed.days[20].low == 8 and followed.days[19].low is None


def test_an_index_older_than_a_year_is_no_low_index() -> None:
    # One score each 30 days: when 13 of 20 lie at 20 the early 8.0 is long past, so that 11.3 lies 1.3 over the Low Index of 10.0.
    followed = follow_record(scores(["10"] * 20 + ["20"] * 13, every_days=30), RULES)
    assert (followed.days[-1].low, followed.days[-1].index) == (Fraction(10), Fraction("11.3"))


def test_the_year_is_counted_from_the_last_score_on_the_record_and_not_from_the_new_one() -> None:
    # The thirteenth 20 comes two years after the score before it: the Low Index that stood is still 8.0.
    record = scores(["10"] * 20 + ["20"] * 13)
    late = replace(record[-1], day=record[-2].day + timedelta(days=730))
    followed = follow_record([*record[:-1], late], RULES)
    assert (followed.days[-1].low, followed.days[-1].index) == (Fraction(8), Fraction("11.2"))


def test_an_index_carried_in_is_no_low_index() -> None:
    record = [replace(score, index=Fraction(5)) for score in scores(["10"] * 20 + ["20"] * 13)]
    assert follow_record(record, RULES).days[-1].low == 8


def test_a_stated_low_index_holds_for_the_last_day() -> None:
    followed = follow_record(scores(["10"] * 20 + ["20"] * 13), RULES, stated_low=Fraction(6))
    # 11.3 - 6 = 5.3: 6 + 3 + 1.15 = 10.15 -> 10.2
    assert (followed.days[-1].index, followed.days[-1].is_low_stated) == (Fraction("10.2"), True)
    assert followed.days[-2].low == 8


def test_an_exceptional_score_takes_a_stroke_off_each_and_fades_as_new_scores_come() -> None:
    # Five scores of 20: Index 20. A 13.0 is 7.0 under: all six less by 1. Six scores: (12 + 19) / 2 - 1 = 14.5.
    followed = follow_record(scores(["20"] * 5 + ["13"]), RULES)
    assert (followed.days[-1].exceptional[0].under, followed.days[-1].index) == (Fraction(7), Fraction("14.5"))
    assert [entry.value for entry in followed.record] == [19] * 5 + [12]
    # A further 20 does not carry it: seven scores (12 + 19) / 2 = 15.5.
    assert follow_record(scores(["20"] * 5 + ["13", "20"]), RULES).days[-1].index == Fraction("15.5")


@pytest.mark.parametrize(("unrounded", "is_exceptional"), [("13.04", False), ("13.00", True), ("12.96", True)])
def test_an_exceptional_score_goes_by_its_unrounded_differential(unrounded: str, is_exceptional: bool) -> None:
    followed = follow_record(scores(["20"] * 5 + [unrounded]), RULES)
    assert bool(followed.days[-1].exceptional) is is_exceptional


def test_the_index_that_was_in_effect_may_be_stated() -> None:
    record = scores(["20"] * 5 + ["13"])
    assert not follow_record([*record[:-1], replace(record[-1], index=Fraction("19.9"))], RULES).days[-1].exceptional
    assert follow_record([*record[:-1], replace(record[-1], index=Fraction("23.0"))], RULES).days[-1].exceptional[0].reduce == 2


def test_two_exceptional_scores_add_up() -> None:
    older, first, second = (OnRecord(posted=score) for score in scores(["20", "13", "9"]))
    record = reduce_recent(reduce_recent((older, first), Fraction(1), 20) + (second,), Fraction(2), 20)
    assert [entry.adjusted_by for entry in record] == [-3, -3, -2]
    assert [entry.adjusted_by for entry in reduce_recent(record, Fraction(1), 2)] == [-3, -4, -3]


def test_two_scores_of_one_day_are_measured_against_the_index_before_that_day() -> None:
    # Five of 20, then 13 and 12.5 on one day: both against 20.0 (7.0 and 7.5 under), less 1 each time.
    record = scores(["20"] * 5 + ["13", "12.5"])
    same_day = [*record[:5], *(replace(score, day=record[5].day) for score in record[5:])]
    followed = follow_record(same_day, RULES)
    assert [one.index for one in followed.days[-1].exceptional] == [20, 20]
    # values 18 x 5, 11, 11.5: seven scores, two lowest: 11.25 -> 11.3
    assert followed.days[-1].index == Fraction("11.3")


def test_nobody_passes_the_limit() -> None:
    assert indexes(follow_record(scores(["60"] * 5), RULES))[2:] == ["54.0"] * 3


def nines(days: Sequence[int], **fields: object) -> list[RoundPosted]:
    return [
        RoundPosted(
            number=number,
            day=FIRST + timedelta(days=day),
            holes=9,
            adjusted_gross=42 + number,
            course_rating=Fraction("35.3"),
            slope=113,
            **fields,  # type: ignore[arg-type]
        )
        for number, day in enumerate(days)
    ]


def test_two_nines_are_joined_in_the_order_of_posting() -> None:
    # 6.7 + 7.7 = 14.4 on the second day; the third waits.
    found = post(nines([0, 5, 9]), differential_rules(TWO_NINES).value, 20)
    assert [(one.numbers, one.day, one.holes, one.figure.value) for one in found.posted] == [
        ((0, 1), FIRST + timedelta(days=5), 18, Fraction("14.4"))
    ]
    assert (found.waiting, found.dropped) == (2, ())


def test_a_nine_that_waits_too_long_is_dropped() -> None:
    full = [RoundPosted(number=100 + at, day=FIRST + timedelta(days=10 + at), holes=18, stated=Fraction(10)) for at in range(20)]
    first, late = nines([0, 60])
    found = post([first, *full, late], differential_rules(TWO_NINES).value, 20)
    assert (found.dropped, found.waiting, len(found.posted)) == ((0,), 1, 20)
    found = post([first, *full[:19], late], differential_rules(TWO_NINES).value, 20)
    assert (found.dropped, found.waiting, len(found.posted)) == ((), None, 20)


def test_a_nine_of_the_very_day_of_the_twentieth_is_no_older() -> None:
    full = [RoundPosted(number=100 + at, day=FIRST + timedelta(days=at), holes=18, stated=Fraction(10)) for at in range(20)]
    first, late = nines([0, 60])
    found = post([first, *full, late], differential_rules(TWO_NINES).value, 20)
    assert (found.dropped, found.waiting, found.posted[-1].numbers) == ((), None, (0, 1))


def test_of_two_nines_the_index_of_the_second_was_in_effect() -> None:
    first, second = nines([0, 5])
    found = post([replace(first, index=Fraction(20)), replace(second, index=Fraction(19))], differential_rules(TWO_NINES).value, 20)
    assert found.posted[0].index == 19


def test_a_nine_takes_its_expected_differential_where_the_book_says_so() -> None:
    rules = differential_rules(BOOK).value
    found = post(nines([0], expected=Fraction("8.5")), rules, 20)
    assert found.posted[0].figure.value == Fraction("15.2")
    with pytest.raises(HandicapError, match=r"Round 0 lacks its expected differential.*not published"):
        post(nines([0]), rules, 20)


def test_an_index_takes_54_holes() -> None:
    rules = differential_rules(BOOK).value
    rounds = nines([0, 1, 2, 3, 4, 5], expected=Fraction("8.5"))
    assert indexes(follow_record(post(rounds[:5], rules, 20).posted, RULES)) == ["-"] * 5
    # 15.2 and 16.2 are the two lowest of six: 15.7 - 1
    assert indexes(follow_record(post(rounds, rules, 20).posted, RULES))[-1] == "14.7"


def test_a_round_without_score_or_ratings_is_refused() -> None:
    with pytest.raises(HandicapError, match="Round 3 lacks its score"):
        post([RoundPosted(number=3, day=FIRST, holes=18, adjusted_gross=90)], differential_rules(BOOK).value, 20)
