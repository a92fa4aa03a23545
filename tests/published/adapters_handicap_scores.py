"""Adapters for examples of scores for handicap: net double bogey, differentials, the Index with its caps, and what counts at all."""

import re
from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction

from marram.handicaps.acceptability import Acceptance, RoundPlayed, accept
from marram.handicaps.adjusted_score import (
    ScoreOf,
    adjusted_gross,
    entered_for_holes_not_played,
    hole_limits,
    most_likely_scores,
    net_double_bogey,
    score_of,
)
from marram.handicaps.differential import differential, joined, nine_hole_differential
from marram.handicaps.index_of_scores import IndexOn, average, cap, exceptional_reduction, low_index, within_limit
from marram.handicaps.index_on_record import OnRecord, reduce_recent
from marram.handicaps.rounding import round_half_up, rounded
from marram.handicaps.rules.acceptance_rules import acceptance_rules
from marram.handicaps.rules.index_rules import index_rules
from marram.handicaps.rules.score_rules import (
    conditions_rules,
    differential_rules,
    hole_limit_rules,
    holes_not_played_rules,
    most_likely_rules,
)
from marram.handicaps.score_record import Posted
from marram.handicaps.strokes_on_holes import strokes_on_hole
from marram.handicaps.written_handicaps import tell_handicap
from marram.rulebook.book import Book
from marram.rulebook.handicap_words import FilledBy, ScoreNeeds
from tests.published.adapter import Adapter, Unfit, to_list
from tests.published.adapters_handicaps import NUMBER_WORDS, index_of
from tests.published.comparing import Unrounded
from tests.published.handicap_inputs import (
    BOOK,
    BOOK_OF_TEN_HOLES,
    BOOK_OF_TWO_NINES,
    Inputs,
    Values,
    exact,
    handicap,
    handicaps,
    holes_of,
    holes_of_course,
    mapping,
    tee_of,
    whole_handicap,
    whole_number,
    wholes,
)

LIMITS, INDEX, DIFFERENTIAL = hole_limit_rules(BOOK).value, index_rules(BOOK).value, differential_rules(BOOK).value
_YARDS = {
    "yd": Fraction(1),
    "yard": Fraction(1),
    "yards": Fraction(1),
    "ft": Fraction(1, 3),
    "feet": Fraction(1, 3),
    "foot": Fraction(1, 3),
    "in": Fraction(1, 36),
    "inches": Fraction(1, 36),
    "m": Fraction(10000, 9144),
    "metres": Fraction(10000, 9144),
}


def _net_double_bogey(inputs: Inputs) -> Values:
    given, par = whole_handicap(inputs["course_handicap"]), whole_number(inputs["par"])
    most = net_double_bogey(par, strokes_on_hole(given, whole_number(inputs["stroke_index"])), given, LIMITS)
    found: dict[str, object] = {"net_double_bogey": most}
    return found | ({"adjusted": adjusted_gross([whole_number(inputs["actual"])], [most])} if "actual" in inputs else {})


def _net_double_bogeys(inputs: Inputs) -> Values:
    """Single holes of a round of 18."""
    given, holes = whole_handicap(inputs["course_handicap"]), holes_of(inputs["holes"])
    strokes = [strokes_on_hole(given, hole.stroke_index) for hole in holes]
    most = [net_double_bogey(hole.par, received, given, LIMITS) for hole, received in zip(holes, strokes, strict=True)]
    found: dict[str, object] = {"strokes": strokes, "net_double_bogey": most}
    if "no_index_par" in inputs:
        found["initial_maximum"] = net_double_bogey(whole_number(inputs["no_index_par"]), 0, None, LIMITS)
    return found


def _adjusted_gross(inputs: Inputs) -> Values:
    holes = list(holes_of_course(inputs).values())
    gross = [None if score is None else whole_number(score) for score in to_list(inputs["gross"], "gross")]
    limits = hole_limits(holes, whole_handicap(inputs["course_handicap"]), LIMITS)
    return {
        "gross_total": sum(score or 0 for score in gross),
        "net_double_bogey": list(limits),
        "adjusted_gross_score": adjusted_gross(gross, limits),
    }


def _most_likely(inputs: Inputs) -> Values:
    found = re.search(r"(\d+(?:\.\d+)?) ?(yards?|yd|feet|foot|ft|inches|in|metres|m)\b", str(inputs["distance"]))
    if found is None:
        raise Unfit(f"the distance {inputs['distance']!r} is not understood")
    distance_yd = Fraction(found[1]) * _YARDS[found[2]]
    scores = most_likely_scores(whole_number(inputs["strokes_taken"]), distance_yd, most_likely_rules(BOOK).value)
    return {"possible_scores": list(scores)}


def _hole_not_played(inputs: Inputs) -> Values:
    holes, left_out = holes_of_course(inputs), wholes(inputs["holes_not_played"], "holes_not_played")
    rules = holes_not_played_rules(BOOK_OF_TWO_NINES).value
    entered = entered_for_holes_not_played(holes, left_out, whole_handicap(inputs["course_handicap"]), rules)
    made = score_of(whole_number(inputs["holes_played"]), len(holes), rules)
    return {
        "entered": {f"hole_{number}": score for number, score in entered.items()},
        "acceptable": bool(inputs["valid_reason"]) and made is not ScoreOf.NOTHING,
    }


def _hole_not_played_of_ten(inputs: Inputs) -> Values:
    left_out = wholes(inputs["holes_not_played"], "holes_not_played")
    rules = holes_not_played_rules(BOOK_OF_TEN_HOLES).value
    entered = entered_for_holes_not_played(holes_of_course(inputs), left_out, whole_handicap(inputs["course_handicap"]), rules)
    return {"entered": list(entered.values())}


def _differential(inputs: Inputs, conditions: object) -> Fraction:
    return _differential_figure(inputs, conditions)[1]


def _differential_figure(inputs: Inputs, conditions: object) -> tuple[Fraction, Fraction]:
    tee = tee_of(inputs)
    assert tee.course_rating is not None
    gross = whole_number(inputs["adjusted_gross"])
    figure = differential(gross, tee.course_rating, tee.slope, whole_number(conditions), DIFFERENTIAL)
    return figure.unrounded, figure.value


def _score_differential(inputs: Inputs) -> Values:
    unrounded, value = _differential_figure(inputs, inputs["pcc"])
    return {"unrounded": Unrounded(unrounded), "differential": value, "shown_as": tell_handicap(value, DIFFERENTIAL.decimals)}


def _by_conditions(inputs: Inputs) -> Values:
    return {"differentials": [_differential(inputs, conditions) for conditions in to_list(inputs["pcc_values"], "pcc_values")]}


def _rounded_to_tenths(inputs: Inputs) -> Values:
    return {"rounded": [round_half_up(exact(value), DIFFERENTIAL.decimals) for value in to_list(inputs["values"], "values")]}


def _two_nines(inputs: Inputs) -> Values:
    rules, conditions = differential_rules(BOOK_OF_TWO_NINES).value, whole_number(inputs["pcc"])
    nines = []
    for name in ("first", "second"):
        played = mapping(inputs[name], name)
        gross, rating, slope = whole_number(played["ags"]), exact(played["cr"]), whole_number(played["slope"])
        nines.append(nine_hole_differential(gross, rating, slope, conditions, rules))
    return {
        "first": Unrounded(nines[0]),
        "second": Unrounded(nines[1]),
        "combined": joined(nines[0], nines[1], rules).value,
        "sum_of_rounded": sum(round_half_up(nine, rules.decimals) for nine in nines),
    }


def _one_nine(inputs: Inputs) -> Values:
    tee = tee_of(inputs, "_9")
    assert tee.course_rating is not None
    nine = nine_hole_differential(whole_number(inputs["ags_9"]), tee.course_rating, tee.slope, whole_number(inputs["pcc"]), DIFFERENTIAL)
    found: dict[str, object] = {"sd9": Unrounded(nine)}
    expected = inputs.get("expected_9_hole_differential")
    return found | ({} if expected is None else {"differential_18": joined(nine, handicap(expected), DIFFERENTIAL).value})


def _index(inputs: Inputs) -> Values:
    return index_of(handicaps(inputs["differentials"], "differentials"))


def _index_plus(inputs: Inputs) -> Values:
    found = dict(_index(inputs))
    value = found["handicap_index"]
    assert isinstance(value, Fraction)
    return found | {"shown_as": tell_handicap(value, INDEX.decimals)}


def _index_by_length(inputs: Inputs) -> Values:
    name = "differentials_in_order_posted"
    posted = handicaps(inputs[name], name)
    return {str(length): index_of(posted[:length])["handicap_index"] for length in range(3, len(posted) + 1)}


def _cap(averaged: Fraction, low: object) -> tuple[Fraction, Fraction]:
    found = cap(averaged, handicap(low), INDEX.caps, INDEX.decimals)
    return found.soft, within_limit(found.hard, INDEX)


def _capped(inputs: Inputs) -> Values:
    soft, hard = _cap(handicap(inputs["average_low_8"]), inputs["low_index"])
    return {"after_soft_cap": soft, "handicap_index": hard, "shown_as": tell_handicap(hard, INDEX.decimals)}


def _capped_unrounded(inputs: Inputs) -> Values:
    given = exact(inputs["average_low_8_unrounded"])
    return {
        "handicap_index": _cap(given, inputs["low_index"])[1],
        "handicap_index_if_average_rounded_first": _cap(round_half_up(given, INDEX.decimals), inputs["low_index"])[1],
    }


def _capped_averages(inputs: Inputs) -> Values:
    return {"handicap_index": [_cap(averaged, inputs["low_index"])[1] for averaged in handicaps(inputs["averages"], "averages")]}


def _exceptional(inputs: Inputs) -> Values:
    reduce = exceptional_reduction(handicap(inputs["index_before"]), handicap(inputs["differential"]), INDEX.exceptional)
    return {"reduction": -reduce, "handicap_index": handicap(inputs["index_from_8_of_20"]) - reduce}


def _on_record(differentials: list[Fraction]) -> tuple[OnRecord, ...]:
    posted = (
        Posted(numbers=(number,), day=date(2024, 5, 1), holes=18, figure=rounded(value, DIFFERENTIAL.decimals))
        for number, value in enumerate(differentials)
    )
    return tuple(OnRecord(posted=one) for one in posted)


def _exceptional_on_record(inputs: Inputs) -> Values:
    new = handicap(inputs["new_differential"])
    record = _on_record([*handicaps(inputs["differentials_before"], "differentials_before"), new])
    reduce = exceptional_reduction(handicap(inputs["index_before"]), new, INDEX.exceptional)
    adjusted = [entry.value for entry in reduce_recent(record, reduce, INDEX.recent)]
    before, after = average([entry.value for entry in record], INDEX), average(adjusted, INDEX)
    assert before is not None and after is not None
    return {
        "index_without_reduction": before.figure.value,
        "reduction": -reduce,
        "adjusted_differentials": adjusted[-INDEX.recent :],
        "handicap_index": within_limit(after.figure.value, INDEX),
    }


def _two_exceptional(inputs: Inputs) -> Values:
    """An older differential, and two exceptional scores after it, one after the other."""
    record: tuple[OnRecord, ...] = _on_record([Fraction(20)])
    for given in handicaps(inputs["two_exceptional_scores_reductions"], "two_exceptional_scores_reductions"):
        record = reduce_recent((*record, *_on_record([Fraction(10)])), -given, INDEX.recent)
    names = ("total_on_older_differentials", "on_first_exceptional", "on_second_exceptional")
    return {name: entry.adjusted_by for name, entry in zip(names, record, strict=True)}


def _exceptional_steps(inputs: Inputs) -> Values:
    index, name = handicap(inputs["index_before"]), "unrounded_differentials"
    return {"reductions": [-exceptional_reduction(index, one, INDEX.exceptional) for one in handicaps(inputs[name], name)]}


def _low_index(inputs: Inputs) -> Values:
    entries = [to_list(entry, "index_history") for entry in to_list(inputs["index_history"], "index_history")]
    history = sorted((date.fromisoformat(str(day)), at, handicap(index)) for at, (day, index) in enumerate(entries))
    found = low_index(
        [IndexOn(day=day, index=index) for day, _, index in history],
        date.fromisoformat(str(inputs["last_score_date"])),
        whole_number(inputs["differentials_on_record"]),
        INDEX.low_index,
    )
    return {"low_index": "none" if found is None else found}


def _conditions_minimum(inputs: Inputs) -> Values:
    days = [mapping(entry, "scores_of_the_day") for entry in to_list(inputs["scores_of_the_day"], "scores_of_the_day")]
    rules = conditions_rules(BOOK).value
    return {"pcc_may_be_nonzero": [rules.may_move(whole_number(day["index_at_most_36"])) for day in days]}


_NOT: tuple[tuple[str, ScoreNeeds], ...] = (
    (r"\balone\b|\bnobody with\b|\bno company\b|\bwithout company\b", ScoreNeeds.IN_COMPANY),
    (r"\bnot (?:played )?by the rules\b", ScoreNeeds.BY_THE_RULES_OF_GOLF),
    (r"\bunrated\b|\bnot rated\b|\bno (?:current )?(?:course|slope)\b|\bwithout (?:a )?(?:course|slope|rating)\b", ScoreNeeds.RATED_COURSE),
    (r"\bout of season\b|\binactive season\b|\boutside (?:the|its) (?:active )?season\b|\boff.season\b", ScoreNeeds.ACTIVE_SEASON),
)
_BREACHES: tuple[tuple[str, str], ...] = (
    (
        r"\bdisqualified\b.*\bno (?:significant )?(?:scoring )?advantage\b|\bunsigned\b|\bnot (?:signed|certified)\b",
        "disqualified-without-advantage",
    ),
    (r"\bdisqualified\b.*\badvantage\b", "disqualified-with-advantage"),
    (r"\bpenalty (?:left out|not (?:counted|added|applied))\b|\bwithout its penalty\b", "penalty-left-out"),
    (r"\bignored\b", "rule-ignored-on-purpose"),
    (r"\blocal rule not in force\b", "local-rule-not-in-force"),
)
_FORMATS = ("foursomes", "greensomes", "scramble")
_NO_REASON = r"\b(?:no |without (?:a )?|not (?:a |for a )?)valid reason\b|\binvalid reason\b"


def _round_of(case: str) -> RoundPlayed:
    words = case.casefold()
    found = re.search(r"(\d+) (?:of (\d+) )?holes", words)
    if found is None:
        raise Unfit(f"the case {case!r} names no holes")
    played = int(found[1])
    return RoundPlayed(
        holes_played=played,
        holes_of_round=int(found[2] or (9 if played == 9 else 18)),
        format=next((name for name in _FORMATS if name in words), ""),
        has_valid_reason=re.search(_NO_REASON, words) is None,
        is_not={need: case for pattern, need in _NOT if re.search(pattern, words)},
        breach=next((name for pattern, name in _BREACHES if re.search(pattern, words)), ""),
        changes=(case,) if "trial rules" in words else (),
        are_changes_approved="approved" in words and "not approved" not in words,
    )


def _verdict(accepted: Acceptance, played: RoundPlayed) -> str:
    if not accepted.is_acceptable:
        return "no"
    if accepted.counts_as is ScoreOf.NINE and played.holes_of_round > played.holes_played > 0 and played.holes_of_round == 18:
        return "9-hole score only"
    if not accepted.filled or accepted.counts_as is ScoreOf.NINE:
        return "acceptable"
    filled = {FilledBy.NET_PAR: f"net par on {NUMBER_WORDS[accepted.filled]}", FilledBy.EXPECTED_DIFFERENTIAL: "expected differential"}
    return f"acceptable ({filled[accepted.filled_by]})"


def _acceptability(inputs: Inputs) -> Values:
    def verdicts(book: Book) -> list[str]:
        rules = acceptance_rules(book).value
        rounds = [_round_of(str(case)) for case in to_list(inputs["cases"], "cases")]
        return [_verdict(accept(played, rules), played) for played in rounds]

    return {"RoH2020": verdicts(BOOK_OF_TWO_NINES), "RoH2024": verdicts(BOOK)}


SCORE = ("adjusted_gross", "course_rating", "slope")
Kind = tuple[str, tuple[str, ...], Callable[[Inputs], Mapping[str, object]]]
_KINDS: tuple[Kind, ...] = (
    ("net_double_bogey", ("course_handicap", "par", "stroke_index"), _net_double_bogey),
    ("net_double_bogey", ("course_handicap", "par", "stroke_index", "actual"), _net_double_bogey),
    ("net_double_bogey", ("course_handicap", "holes"), _net_double_bogeys),
    ("net_double_bogey", ("course_handicap", "holes", "no_index_par"), _net_double_bogeys),
    ("net_double_bogey_plus", ("course_handicap", "holes"), _net_double_bogeys),
    ("adjusted_gross", ("course", "course_handicap", "gross"), _adjusted_gross),
    ("most_likely_score", ("strokes_taken", "distance"), _most_likely),
    (
        "hole_not_played_2020",
        ("course", "course_handicap", "holes_not_played", "valid_reason", "holes_played"),
        _hole_not_played,
    ),
    ("hole_not_played_2020_GBI", ("course", "course_handicap", "holes_not_played"), _hole_not_played_of_ten),
    ("score_differential", (*SCORE, "pcc"), _score_differential),
    ("score_differential_negative", (*SCORE, "pcc"), _score_differential),
    ("score_differential_negative", ("values",), _rounded_to_tenths),
    ("pcc_effect", (*SCORE, "pcc_values"), _by_conditions),
    ("score_differential_9_2020", ("first", "second", "pcc"), _two_nines),
    (
        "score_differential_9_2024",
        ("ags_9", "course_rating_9", "slope_9", "pcc", "expected_9_hole_differential", "handicap_index"),
        _one_nine,
    ),
    ("pcc_effect_9", ("ags_9", "course_rating_9", "slope_9", "pcc"), _one_nine),
    ("handicap_index", ("differentials",), _index),
    ("handicap_index", ("differentials_in_order_posted",), _index_by_length),
    ("handicap_index_plus", ("differentials",), _index_plus),
    ("handicap_index_max", ("differentials",), _index),
    ("soft_cap", ("average_low_8", "low_index"), _capped),
    ("soft_cap", ("average_low_8_unrounded", "low_index"), _capped_unrounded),
    ("hard_cap", ("average_low_8", "low_index"), _capped),
    ("cap_boundaries", ("low_index", "averages"), _capped_averages),
    ("soft_cap_plus", ("low_index", "average_low_8"), _capped),
    ("exceptional_score", ("index_before", "differential", "index_from_8_of_20"), _exceptional),
    ("exceptional_score", ("differentials_before", "index_before", "new_differential"), _exceptional_on_record),
    ("exceptional_score", ("two_exceptional_scores_reductions",), _two_exceptional),
    ("exceptional_score_boundaries", ("index_before", "unrounded_differentials"), _exceptional_steps),
    ("low_index", ("last_score_date", "index_history", "differentials_on_record"), _low_index),
    ("pcc_minimum", ("scores_of_the_day",), _conditions_minimum),
    ("acceptability", ("cases",), _acceptability),
)
ADAPTERS = tuple(Adapter(topic=topic, inputs=frozenset(inputs), work_out=work_out) for topic, inputs, work_out in _KINDS)
