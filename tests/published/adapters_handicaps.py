"""Adapters for examples of Course and Playing Handicaps, where strokes fall, and course ratings."""

from collections.abc import Callable, Mapping
from fractions import Fraction

from marram.handicaps.course_handicap import course_handicap, course_handicap_for_nine, half_index
from marram.handicaps.differential import differential
from marram.handicaps.index_of_scores import average, within_limit
from marram.handicaps.playing_handicap import added_for_tees, playing_handicap, side_handicap
from marram.handicaps.rounding import Figure, round_whole
from marram.handicaps.rules.course_rules import course_handicap_rules, slope_rules
from marram.handicaps.rules.index_rules import index_rules
from marram.handicaps.rules.playing_rules import allowance_for, playing_handicap_rules
from marram.handicaps.rules.score_rules import differential_rules
from marram.handicaps.stroke_index_check import check_stroke_indexes, difficulty
from marram.handicaps.strokes_on_holes import places_in_order, strokes_by_hole, strokes_on_hole
from marram.handicaps.tees import RatedFor, Tee, bogey_rating, slope_rating
from marram.rulebook.book import Book
from tests.published.adapter import Adapter, to_list
from tests.published.comparing import Unrounded
from tests.published.handicap_inputs import (
    BOOK,
    BOOK_OF_ROUNDED_HALF,
    BOOK_WITHOUT_PAR,
    Inputs,
    Values,
    as_text_if_plus,
    course_of,
    exact,
    handicap,
    handicaps,
    holes_of_course,
    indexes_of,
    mapping,
    tee_of,
    unrounded,
    whole_handicap,
    whole_number,
    wholes,
)

NUMBER_WORDS = [
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"),
    *("ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen"),
]


def _course(inputs: Inputs, book: Book = BOOK) -> Figure:
    return course_handicap(handicap(inputs["handicap_index"]), tee_of(inputs), course_handicap_rules(book).value)


def _course_handicap(inputs: Inputs) -> Values:
    without_par = _course(inputs, BOOK_WITHOUT_PAR).whole
    if "course_rating" not in inputs:
        return {"course_handicap": without_par}
    figure = _course(inputs)
    shown = Unrounded(figure.unrounded)
    both = {"before_april_2024": without_par, "from_april_2024": figure.whole}
    return {"unrounded": shown, "unrounded_2024": shown, "course_handicap": figure.whole, **both}


def _course_handicap_plus(inputs: Inputs) -> Values:
    figure = _course(inputs)
    return {"unrounded": Unrounded(figure.unrounded), "course_handicap": as_text_if_plus(figure.whole)}


def _course_handicap_9(inputs: Inputs) -> Values:
    index, tee = handicap(inputs["handicap_index"]), tee_of(inputs, "_9")
    kept, to_tenth = (course_handicap_rules(book, for_nine=True).value for book in (BOOK, BOOK_OF_ROUNDED_HALF))
    by_half = {name: course_handicap_for_nine(index, tee, rules) for name, rules in (("kept", kept), ("rounded", to_tenth))}
    used = to_tenth if inputs.get("round_half_index_to_tenth") else kept
    figure = course_handicap_for_nine(index, tee, used)
    return {
        "half_index": half_index(index, used),
        "unrounded": Unrounded(figure.unrounded),
        "course_handicap_9": figure.whole,
        "half_kept": by_half["kept"].whole,
        "half_rounded_to_tenth": by_half["rounded"].whole,
        "unrounded_half_kept": Unrounded(by_half["kept"].unrounded),
        "unrounded_half_rounded": Unrounded(by_half["rounded"].unrounded),
    }


def _rounded_wholes(inputs: Inputs) -> Values:
    return {"rounded": [round_whole(exact(value)) for value in to_list(inputs["values"], "values")]}


def _rounded_differentials(inputs: Inputs) -> Values:
    tee, rules = tee_of(inputs), differential_rules(BOOK).value
    assert tee.course_rating is not None
    figures = [differential(gross, tee.course_rating, tee.slope, 0, rules) for gross in wholes(inputs["adjusted_gross"], "adjusted_gross")]
    return {"unrounded": [Unrounded(one.unrounded) for one in figures], "differential": [one.value for one in figures]}


def index_of(differentials: list[Fraction]) -> Values:
    """The Index of some differentials without a Low Index, and the average that it comes from."""
    rules = index_rules(BOOK).value
    found = average(differentials, rules)
    assert found is not None
    mean = found.figure.unrounded + found.band.subtract
    return {
        f"mean_lowest_{found.band.lowest}": Unrounded(mean),
        "before_limit": Unrounded(found.figure.unrounded),
        "handicap_index": within_limit(found.figure.value, rules),
    }


def _rounded_index(inputs: Inputs) -> Values:
    return index_of(handicaps(inputs["differentials"], "differentials"))


def _playing_handicap(inputs: Inputs) -> Values:
    course, share, rules = _course(inputs), exact(inputs["allowance"], "allowance"), playing_handicap_rules(BOOK).value
    return {
        "unrounded_course_handicap": Unrounded(course.unrounded),
        "course_handicap": course.whole,
        "playing_handicap": playing_handicap(course, share, rules).whole,
        "if_double_rounded": playing_handicap(unrounded(course.value), share, rules).whole,
    }


def _playing_handicaps(inputs: Inputs) -> Values:
    courses = handicaps(inputs["unrounded_course_handicaps"], "unrounded_course_handicaps")
    shares = [exact(share) for share in to_list(inputs["allowances"], "allowances")]
    rules = playing_handicap_rules(BOOK).value
    return {"playing_handicaps": [playing_handicap(unrounded(one), share, rules).whole for one, share in zip(courses, shares, strict=True)]}


def _two_tees(inputs: Inputs) -> Values:
    players = {name: mapping(inputs[name], name) for name in ("player_a", "player_b")}
    tees: dict[str, Tee] = {name: tee_of(player) for name, player in players.items()}
    rules, share = playing_handicap_rules(BOOK).value, exact(inputs["allowance"], "allowance")
    courses = {
        name: course_handicap(handicap(player["hi"]), tees[name], course_handicap_rules(BOOK).value) for name, player in players.items()
    }
    added = {name: added_for_tees(tee, list(tees.values()), rules) for name, tee in tees.items()}
    return {name: playing_handicap(courses[name], share, rules, added=added[name]).whole for name in players}


def _side(courses: list[Fraction], format_: str) -> int:
    shares = allowance_for(BOOK, format_).value.shares
    return side_handicap([unrounded(course) for course in courses], shares, playing_handicap_rules(BOOK).value).whole


def _side_of(format_: str) -> Callable[[Inputs], Values]:
    name = "unrounded_course_handicaps"
    return lambda inputs: {"side_handicap": _side(handicaps(inputs[name], name), format_)}


def _scramble(inputs: Inputs) -> Values:
    name = "unrounded_course_handicaps_low_to_high"
    courses = handicaps(inputs[name], name)
    format_ = f"scramble-{len(courses)}"
    parts = zip(sorted(courses), allowance_for(BOOK, format_).value.shares, strict=True)
    return {"team_handicap": _side(courses, format_), "if_each_part_rounded": sum(round_whole(course * share) for course, share in parts)}


def _scrambles(inputs: Inputs) -> Values:
    return {name: _side(handicaps(inputs[name], name), f"scramble-{NUMBER_WORDS.index(name)}") for name in ("three", "two")}


def _index_audit(inputs: Inputs) -> Values:
    return {check.id: check.holds for check in check_stroke_indexes(wholes(inputs["stroke_index"], "stroke_index"))}


def _difficulty(inputs: Inputs) -> Values:
    return {"difficulty": difficulty(whole_number(inputs["par"]), exact(inputs["scratch_value"]), exact(inputs["bogey_value"]))}


def _allocation(inputs: Inputs) -> Values:
    holes = holes_of_course(inputs)
    strokes = strokes_by_hole(whole_handicap(inputs["playing_handicap"]), indexes_of(list(holes.values())))
    given = {number: received for number, received in zip(holes, strokes, strict=True) if received < 0}
    there = set(given.values())
    return {
        "strokes": list(strokes),
        "total": sum(strokes),
        "holes_giving": list(given),
        "strokes_there": there.pop() if len(there) == 1 else list(given.values()),
    }


def _allocation_on_one_hole(inputs: Inputs) -> Values:
    place = whole_number(inputs["stroke_index"])
    return {"strokes": [strokes_on_hole(int(one), place) for one in handicaps(inputs["playing_handicaps"], "playing_handicaps")]}


def _allocation_at(inputs: Inputs) -> Values:
    given = whole_handicap(inputs["playing_handicap"])
    return {"strokes": [strokes_on_hole(given, place) for place in wholes(inputs["stroke_indexes"], "stroke_indexes")]}


def _allocation_9(inputs: Inputs) -> Values:
    indexes = wholes(inputs["stroke_index"], "stroke_index")
    return {
        "rank": list(places_in_order(indexes)),
        "strokes": list(strokes_by_hole(whole_handicap(inputs["playing_handicap_9"]), indexes)),
    }


def _allocation_9_cases(inputs: Inputs) -> Values:
    course = course_of(inputs)
    indexes, numbers = wholes(course["stroke_index"], "stroke_index"), wholes(course["holes"], "holes")
    found: dict[str, object] = {}
    for case in to_list(inputs["cases"], "cases"):
        given = whole_handicap(case)
        strokes = strokes_by_hole(given, indexes)
        giving = [number for number, received in zip(numbers, strokes, strict=True) if received < 0]
        if given < 0:
            found |= {f"plus_{-given}_hole_giving": giving[0], f"plus_{-given}_holes_giving": giving, f"plus_{-given}": list(strokes)}
        else:
            found[NUMBER_WORDS[given] if given < len(NUMBER_WORDS) else str(given)] = list(strokes)
    return found


def _slope(inputs: Inputs) -> Values:
    rules, found = slope_rules(BOOK).value, {}
    for name in ("men", "women"):
        rated = mapping(inputs[name], name)
        found[name] = slope_rating(exact(rated["bogey_rating"]), exact(rated["course_rating"]), RatedFor(name), rules).whole
    return found


def _bogey(inputs: Inputs) -> Values:
    slope, rating, rules = whole_number(inputs["slope"]), exact(inputs["course_rating"]), slope_rules(BOOK).value
    return {f"bogey_rating_{who}": bogey_rating(slope, rating, who, rules).value for who in RatedFor}


TEE = ("handicap_index", "slope", "course_rating", "par")
NINE = ("handicap_index", "course_rating_9", "slope_9", "par_9")
Kind = tuple[str, tuple[str, ...], Callable[[Inputs], Mapping[str, object]]]
_KINDS: tuple[Kind, ...] = (
    ("course_handicap", TEE, _course_handicap),
    ("course_handicap", ("handicap_index", "slope"), _course_handicap),
    ("course_handicap_9", NINE, _course_handicap_9),
    ("course_handicap_9", (*NINE, "round_half_index_to_tenth"), _course_handicap_9),
    ("course_handicap_plus", TEE, _course_handicap_plus),
    ("rounding", ("values",), _rounded_wholes),
    ("rounding", TEE, _course_handicap),
    ("rounding", ("course_rating", "slope", "adjusted_gross"), _rounded_differentials),
    ("rounding", ("differentials",), _rounded_index),
    ("playing_handicap", (*TEE, "allowance"), _playing_handicap),
    ("playing_handicap", ("unrounded_course_handicaps", "allowances"), _playing_handicaps),
    ("playing_handicap_two_tees", ("allowance", "player_a", "player_b"), _two_tees),
    ("playing_handicap_foursomes", ("unrounded_course_handicaps",), _side_of("foursomes")),
    ("playing_handicap_greensomes", ("unrounded_course_handicaps",), _side_of("greensomes")),
    ("playing_handicap_scramble", ("unrounded_course_handicaps_low_to_high",), _scramble),
    ("playing_handicap_scramble", ("three", "two"), _scrambles),
    ("stroke_index_audit", ("stroke_index",), _index_audit),
    ("stroke_index_audit", ("par", "scratch_value", "bogey_value"), _difficulty),
    ("stroke_allocation", ("course", "playing_handicap"), _allocation),
    ("stroke_allocation", ("stroke_index", "playing_handicaps"), _allocation_on_one_hole),
    ("stroke_allocation_plus", ("course", "playing_handicap"), _allocation),
    ("stroke_allocation_plus", ("playing_handicap", "stroke_indexes"), _allocation_at),
    ("stroke_allocation_9", ("stroke_index", "playing_handicap_9"), _allocation_9),
    ("stroke_allocation_9", ("course", "cases"), _allocation_9_cases),
    ("slope_rating", ("men", "women"), _slope),
    ("slope_rating_inverse", ("slope", "course_rating"), _bogey),
)
ADAPTERS = tuple(Adapter(topic=topic, inputs=frozenset(inputs), work_out=work_out) for topic, inputs, work_out in _KINDS)
