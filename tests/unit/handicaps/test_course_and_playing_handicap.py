"""Course and Playing Handicaps, each value worked by hand from the rule named beside it."""

from fractions import Fraction

import pytest

from marram.core.errors import HandicapError
from marram.handicaps.course_handicap import course_handicap, course_handicap_for_nine
from marram.handicaps.playing_handicap import added_for_tees, off_lowest, playing_handicap, side_handicap
from marram.handicaps.rounding import Figure, in_decimals
from marram.handicaps.rules.course_rules import course_handicap_rules, slope_rules
from marram.handicaps.rules.playing_rules import allowance_for, playing_handicap_rules
from marram.handicaps.tees import RatedFor, Tee, bogey_rating, faults_of_tee, slope_rating
from marram.interchange.books.book_files import read_handicap_book

BOOK = read_handicap_book("2024")
COURSE, PLAYING = course_handicap_rules(BOOK).value, playing_handicap_rules(BOOK).value
WITHOUT_PAR = read_handicap_book("2020+rating-less-par-left-out")


def tee(rating: str, slope: int, par: int) -> Tee:
    return Tee(slope=slope, course_rating=Fraction(rating), par=par)


def figure(value: str) -> Figure:
    return Figure(value=Fraction(value), unrounded=Fraction(value))


@pytest.mark.parametrize(
    ("index", "tees", "unrounded", "value"),
    # Rules of Handicapping 2024, Rule 6.1a: Index x slope / 113 + (rating - par).
    [
        ("20.3", tee("70.2", 113, 71), "19.5000", 20),  # 20.3 - 0.8 = 19.5, a half goes up
        ("0.0", tee("71.5", 140, 72), "-0.5000", 0),  # a half goes up to zero
        ("-1.0", tee("71.5", 113, 72), "-1.5000", -1),
        ("-3.1", tee("72.0", 113, 72), "-3.1000", -3),
        ("10.0", tee("74.1", 150, 72), "15.3743", 15),  # 1500/113 = 13.2743
    ],
)
def test_course_handicap(index: str, tees: Tee, unrounded: str, value: int) -> None:
    found = course_handicap(Fraction(index), tees, COURSE)
    assert (in_decimals(found.unrounded, 4), found.whole) == (unrounded, value)


def test_course_handicap_without_rating_less_par_needs_neither() -> None:
    # 12.2 x 128 / 113 = 13.8195
    assert course_handicap(Fraction("12.2"), Tee(slope=128), course_handicap_rules(WITHOUT_PAR).value).whole == 14
    with pytest.raises(HandicapError, match="no Course Rating"):
        course_handicap(Fraction("12.2"), Tee(slope=128, par=72), COURSE)
    with pytest.raises(HandicapError, match="no par"):
        course_handicap(Fraction("12.2"), Tee(slope=128, course_rating=Fraction(71)), COURSE)


def test_nine_holes_take_half_the_index_kept_or_to_a_tenth() -> None:
    # 6.1 / 2 = 3.05: + 0.4 = 3.45 -> 3; to a tenth 3.1: + 0.4 = 3.5 -> 4. A plus 0.5 halved is -0.25, to a tenth -0.2.
    nine = tee("36.4", 113, 36)
    to_tenth = course_handicap_rules(read_handicap_book("2024+half-index-to-a-tenth"), for_nine=True).value
    assert course_handicap_for_nine(Fraction("6.1"), nine, COURSE).unrounded == Fraction("3.45")
    assert course_handicap_for_nine(Fraction("6.1"), nine, COURSE).whole == 3
    assert course_handicap_for_nine(Fraction("6.1"), nine, to_tenth).whole == 4
    assert course_handicap_for_nine(Fraction("-0.5"), nine, to_tenth).unrounded == Fraction("0.2")


def test_the_allowance_is_taken_before_rounding_or_after() -> None:
    # Rules of Handicapping 2024, 6.2a/1: 8.6 x 125/113 = 9.5133; x 0.85 = 8.0863 -> 8; from 10: 8.5 -> 9.
    course = course_handicap(Fraction("8.6"), tee("71.0", 125, 71), COURSE)
    after = playing_handicap_rules(read_handicap_book("2024+allowance-of-rounded-handicaps")).value
    assert playing_handicap(course, Fraction("0.85"), PLAYING).whole == 8
    assert playing_handicap(course, Fraction("0.85"), after).whole == 9


@pytest.mark.parametrize(("course", "share", "value"), [("-3.0", "0.95", -3), ("-2.0", "0.75", -1), ("-3.4", "0.5", -2), ("14.4", "1", 14)])
def test_the_allowance_brings_a_plus_handicap_nearer_to_zero(course: str, share: str, value: int) -> None:
    # -2.85 -> -3; -1.5 -> -1 (a half goes up); -1.7 -> -2; 14.4 -> 14
    assert playing_handicap(figure(course), Fraction(share), PLAYING).whole == value


def test_a_difference_in_par_is_added_after_the_allowance() -> None:
    # Rules of Handicapping, Rule 6.2b: 15.8602 x 0.95 + 1 = 16.0672, and not (15.8602 + 1) x 0.95 = 16.0172
    low, high = tee("71.0", 120, 72), tee("72.4", 124, 74)
    assert added_for_tees(high, [low, high], PLAYING) == 2
    assert added_for_tees(low, [low, high], PLAYING) == 0
    # 10.2 x 0.95 + 2 = 11.69 -> 12; with the difference multiplied (12.2 x 0.95 = 11.59 -> 12) equal, so the sum is looked at
    assert playing_handicap(figure("10.2"), Fraction("0.95"), PLAYING, added=2).unrounded == Fraction("11.69")


def test_where_par_is_no_part_tees_differ_by_their_ratings() -> None:
    rules = playing_handicap_rules(WITHOUT_PAR).value
    low, high = tee("71.0", 120, 72), tee("72.4", 124, 72)
    assert added_for_tees(high, [low, high], rules) == Fraction("1.4")
    with pytest.raises(HandicapError, match="no Course Rating"):
        added_for_tees(Tee(slope=120, par=72), [low], rules)


def test_a_side_takes_the_larger_share_of_its_lowest_whatever_the_order() -> None:
    # Appendix C, greensomes: 6.3 x 0.6 + 17.8 x 0.4 = 10.9 -> 11; the other way round 13.2 -> 13
    shares = allowance_for(BOOK, "greensomes").value.shares
    for order in (["6.3", "17.8"], ["17.8", "6.3"]):
        assert side_handicap([figure(one) for one in order], shares, PLAYING).whole == 11
    with pytest.raises(HandicapError, match="2 players on a side"):
        side_handicap([figure("6.3")], shares, PLAYING)


def test_in_a_match_the_lowest_plays_off_zero() -> None:
    assert off_lowest([6, 13, 9, 20]) == (0, 7, 3, 14)
    assert off_lowest([-2, 3]) == (0, 5)


@pytest.mark.parametrize(
    ("bogey", "rating", "rated_for", "slope"),
    # 5.381 x 22.5 = 121.07; 4.24 x 27.9 = 118.30; 5.381 x 40 = 215.24, no more than 155; 5.381 x 5 = 26.9, no less than 55
    [("94.5", "72.0", "men", 121), ("101.3", "73.4", "women", 118), ("112", "72", "men", 155), ("77", "72", "men", 55)],
)
def test_slope_rating(bogey: str, rating: str, rated_for: str, slope: int) -> None:
    assert slope_rating(Fraction(bogey), Fraction(rating), RatedFor(rated_for), slope_rules(BOOK).value).whole == slope


def test_bogey_rating() -> None:
    # 70 + 113/5.381 = 90.9998; 70 + 113/4.24 = 96.6509
    rules = slope_rules(BOOK).value
    assert bogey_rating(113, Fraction(70), RatedFor.MEN, rules).value == 91
    assert bogey_rating(113, Fraction(70), RatedFor.WOMEN, rules).value == Fraction("96.7")


@pytest.mark.parametrize(
    ("tees", "holes", "faults"),
    [
        (tee("71.4", 55, 72), 18, []),
        (tee("35.4", 155, 36), 9, []),
        (tee("71.4", 54, 72), 18, ["a Slope Rating of 54 cannot be; expected 55 to 155"]),
        (tee("71.4", 156, 72), 18, ["a Slope Rating of 156 cannot be; expected 55 to 155"]),
        (
            tee("35.4", 200, 36),
            18,
            [
                "a Slope Rating of 200 cannot be; expected 55 to 155",
                "a Course Rating of 35.4 for 18 holes cannot be; expected 40 to 90",
                "a par of 36 for 18 holes cannot be; expected 54 to 80",
            ],
        ),
        (tee("71.45", 113, 72), 18, ["a Course Rating has one decimal"]),
        (Tee(slope=113), 18, []),
    ],
)
def test_every_fault_of_a_tee_is_told(tees: Tee, holes: int, faults: list[str]) -> None:
    assert list(faults_of_tee(tees, holes, slope_rules(BOOK).value)) == faults
