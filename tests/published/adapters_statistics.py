"""Adapters for examples of statistics: inputs go to the evidence package, what it says comes back under the names of the examples."""

from collections.abc import Callable, Mapping
from math import exp, sqrt

from marram.evidence.arm_sizes import (
    answers_needed,
    design_effect,
    players_for_equal_means,
    players_per_arm,
    power_of_equal_rates,
    rounds_per_arm,
    units_per_arm,
)
from marram.evidence.clarity.agreement import agreement_of
from marram.evidence.clarity.alpha import Scale, alpha
from marram.evidence.clarity.observers import observers_agree
from marram.evidence.effects import paired_days
from marram.evidence.groups import Sample, compare_in_turn, compare_lots, sample_of
from marram.evidence.guards import equivalence_of_groups_p
from marram.evidence.looks import Bounds, bounds_of_looks, chance_of_alarm
from marram.evidence.planning.fractions_of_days import fraction
from marram.evidence.ranks import compare_ranks, rank_changes
from marram.evidence.shares import changed_answers, share, share_difference
from marram.evidence.sizes import ALPHA, least_effect, sd_of_paired_days
from marram.evidence.verdicts import holm
from marram.evidence.weighing.weighting import Cell, weighted_share
from tests.published.adapter import Adapter, Unfit, number, numbers, rows, to_list, to_number, whole

Inputs = Mapping[str, object]
Values = Mapping[str, object]


def _share(inputs: Inputs) -> Values:
    found = share(whole(inputs, "count"), whole(inputs, "n"))
    return {"lower": found.interval95.low, "upper": found.interval95.high}


def _pairs(inputs: Inputs) -> Values:
    both = zip(numbers(inputs, "group1"), numbers(inputs, "group2"), strict=True)
    found = paired_days([(str(place), first, second) for place, (first, second) in enumerate(both)])
    return {
        "t": found.estimate / (found.sd / sqrt(found.pairs)),
        "df": found.pairs - 1,
        "p": found.p_t,
        "lower": found.interval95.low,
        "upper": found.interval95.high,
    }


def _two_shares(inputs: Inputs) -> Values:
    found = share_difference(whole(inputs, "count1"), whole(inputs, "n1"), whole(inputs, "count2"), whole(inputs, "n2"))
    return {"diff": found.estimate, "lower": found.interval95.low, "upper": found.interval95.high}


def _table(inputs: Inputs) -> list[list[int]]:
    table = [[int(value) for value in row] for row in rows(inputs, "table")]
    if [len(row) for row in table] != [2, 2]:
        raise Unfit("the table is not one of two by two")
    return table


def _changed(inputs: Inputs) -> Values:
    (both_yes, only_first), (only_second, both_no) = _table(inputs)
    found = changed_answers(both_yes=both_yes, only_first=only_first, only_second=only_second, both_no=both_no)
    return {
        "chi2_uncorrected": found.chi2,
        "chi2_corrected": found.chi2_corrected,
        "p_exact": found.p_exact,
        "marginal_change": found.difference,
    }


def _rare(inputs: Inputs) -> Values:
    (first, not_first), (second, not_second) = _table(inputs)
    found = share_difference(first, first + not_first, second, second + not_second)
    return {"p_two_sided": found.p_exact, "p_one_sided": found.p_exact_more}


def _two_lots(inputs: Inputs) -> Values:
    lots = [Sample(n=whole(inputs, f"n{lot}"), mean=number(inputs, f"mean{lot}"), sd=number(inputs, f"sd{lot}")) for lot in (1, 2)]
    found = compare_lots([(lots[0], lots[1])])
    return {"t": found.estimate / found.standard_error, "df": found.degrees_of_freedom}


def _in_turn(inputs: Inputs) -> Values:
    first_s, first_f = rows(inputs, "seq_SF_period1_period2"), rows(inputs, "seq_FS_period1_period2")
    found = compare_in_turn([(one, two) for one, two in first_f], [(one, two) for one, two in first_s])
    # F less S, player by player, without regard to the order
    plain = [one - two for one, two in first_f] + [two - one for one, two in first_s]
    unadjusted = paired_days([(str(place), value, 0.0) for place, value in enumerate(plain)]).estimate
    return {
        "effect": found.estimate,
        "se": found.standard_error,
        "df": found.degrees_of_freedom,
        "unadjusted_mean_difference": unadjusted,
    }


def _within_margin(inputs: Inputs) -> Values:
    first, second = numbers(inputs, "x"), numbers(inputs, "y")
    difference = sample_of(first).mean - sample_of(second).mean
    return {"mean_diff": difference, "p": equivalence_of_groups_p(first, second, number(inputs, "margin"))}


def _take_usual_alpha(inputs: Inputs) -> None:
    if number(inputs, "alpha") != ALPHA:
        raise Unfit(f"planned at {inputs['alpha']}; every plan is made at {ALPHA}")


def _clusters(inputs: Inputs) -> Values:
    _take_usual_alpha(inputs)
    effect = design_effect(number(inputs, "cluster_size"), number(inputs, "icc"))
    needed = number(inputs, "n_individual") * effect
    clusters = int(needed / number(inputs, "cluster_size"))  # the source rounds down: 24 clusters of 46 are 1104, of the 1105 wanted
    return {
        "design_effect": effect,
        "n_total": clusters * number(inputs, "cluster_size"),
        "clusters": clusters,
        "n_individual_recomputed": 2
        * players_per_arm(number(inputs, "p_control"), number(inputs, "p_trial"), power=number(inputs, "power")),
    }


def _standard_sizes(inputs: Inputs) -> Values:
    _take_usual_alpha(inputs)
    power = number(inputs, "power")
    return {name: units_per_arm(effect, 1.0, power=power) for name, effect in (("n_d02", 0.2), ("n_d05", 0.5), ("n_d08", 0.8))}


def _answers(inputs: Inputs) -> Values:
    _take_usual_alpha(inputs)
    # the source counts steps from the best: a positive log odds ratio raises the first share
    found = answers_needed(numbers(inputs, "control"), exp(number(inputs, "log_odds_ratio")), power=number(inputs, "power"))
    return {"n_total": found.answers} | {f"p{place}": value for place, value in enumerate(found.other_shares, start=1)}


def _equal_rates(inputs: Inputs) -> Values:
    low, high = number(inputs, "ratio_low"), number(inputs, "ratio_high")
    if abs(low * high - 1) > 1e-9:
        raise Unfit(f"the factors {low} and {high} do not lie alike on both sides")
    power = power_of_equal_rates(
        number(inputs, "rate"),
        whole(inputs, "n_per_arm"),
        high,
        dispersion=number(inputs, "dispersion"),
        exposure=number(inputs, "exposure"),
        alpha=number(inputs, "alpha"),
    )
    return {"power": power}


def _looks(inputs: Inputs) -> Values:
    if not isinstance(inputs["looks"], list):
        ordinary = 1.959964
        return {name: chance_of_alarm([ordinary] * looks) for name, looks in (("two_looks", 2), ("five_looks", 5))}
    # which bounds are meant is said in the title alone
    shapes = [shape for word, shape in (("Pocock", Bounds.LEVEL), ("Fleming", Bounds.FALLING)) if word in str(inputs["title"])]
    if len(shapes) != 1:
        raise Unfit("the title does not say which bounds are meant")
    found = {int(looks): bounds_of_looks(int(looks), shapes[0]) for looks in numbers(inputs, "looks")}
    last = {f"K{looks}": bounds[-1] for looks, bounds in found.items()}
    return last | {f"K{looks}_look1": bounds[0] for looks, bounds in found.items()}


def _ranks(inputs: Inputs) -> Values:
    first, second = numbers(inputs, "x"), numbers(inputs, "y")
    found = compare_ranks(first, second)
    return {"W": found.chance * len(first) * len(second), "p_one_sided": found.p_higher, "prob_superiority": found.chance}


def _ratings(inputs: Inputs) -> Values:
    found = rank_changes(rows(inputs, "rows"))
    return {"chi2": found.chi2, "df": found.degrees_of_freedom, "p": found.p}


def _agreement(inputs: Inputs) -> Values:
    kappa = agreement_of([[int(value) for value in row] for row in rows(inputs, "counts")]).kappa
    return {"kappa": kappa, "kappa_7_digits": kappa}


def _several_p(inputs: Inputs) -> Values:
    return {"holm_below_5_pct": sum(p <= ALPHA for p in holm(numbers(inputs, "p_values")))}


def _smallest_p(inputs: Inputs) -> Values:
    pairs = whole(inputs, "J")
    return {"p_min": paired_days([(str(place), 1.0 + place, 0.0) for place in range(pairs)]).p_sign_flip}


def _least_effect(inputs: Inputs) -> Values:
    # the heading of that table gives 10 min between groups and 25 groups for every row
    sd = sd_of_paired_days(between_days=number(inputs, "sb"), between_groups=10.0, groups=25, lag_correlation=number(inputs, "phi"))
    return {"mde": least_effect(whole(inputs, "J"), sd)}


def _rounds(inputs: Inputs) -> Values:
    return {"n_per_arm": rounds_per_arm(number(inputs, "rate"), number(inputs, "rate_ratio"), number(inputs, "dispersion"))}


def _answers_by_odds(inputs: Inputs) -> Values:
    # the heading of that table gives the shares
    return {"n_total": answers_needed([0.10, 0.20, 0.30, 0.25, 0.15], number(inputs, "odds_ratio")).answers}


def _equal_means(inputs: Inputs) -> Values:
    return {"n_per_arm": players_for_equal_means(number(inputs, "sd"), number(inputs, "margin"))}


def _adapter(topic: str, inputs: str, work_out: Callable[[Inputs], Values], *, gives: str = "") -> Adapter:
    return Adapter(topic=topic, inputs=frozenset(inputs.split()), work_out=work_out, gives=frozenset(gives.split()), to_decimals_shown=True)


def _alphas(inputs: Inputs) -> Values:
    ratings = [
        [None if value is None else to_number(value, "ratings") for value in to_list(row, "ratings")]
        for row in to_list(inputs["ratings"], "ratings")
    ]
    return {**{scale.value: alpha(ratings, scale) for scale in Scale}, **_between_observers(ratings)}


def _between_observers(ratings: list[list[float | None]]) -> Values:
    """The six parts of Shrout and Fleiss, the rows being the things that were rated; nothing where a rating is missing."""
    whole = [[value for value in row if value is not None] for row in ratings]
    if [len(row) for row in whole] != [len(row) for row in ratings]:
        return {}
    found = observers_agree(whole)
    return {
        "icc_1_1": found.drawn_anew,
        "icc_2_1": found.any_observer,
        "icc_3_1": found.these_observers,
        "icc_1_k": found.drawn_anew_mean,
        "icc_2_k": found.any_observer_mean,
        "icc_3_k": found.these_observers_mean,
    }


def _factorial(inputs: Inputs) -> Values:
    generators = [str(text) for text in to_list(inputs["generators"], "generators")]
    changes = len({letter for text in generators for letter in text if letter.isalpha()})
    plan = fraction(changes, generators)
    letters = "ABCDEFG"[:changes]
    pairs = {letter: sum(len(effect) == 2 for effect in plan.aliases_of(letter)) for letter in letters}
    return (
        {"runs": len(plan.days), "words": len(plan.words), "resolution": plan.resolution}
        | {f"aliases_of_{letter}_of_order2": count for letter, count in pairs.items()}
        | {f"two_factor_aliases_of_{letter}": count for letter, count in pairs.items()}
    )


def _factorial_with_aliases(inputs: Inputs) -> Values:
    """The same, where the words and the aliases that the source prints are given too: they must be ours."""
    generators = [str(text) for text in to_list(inputs["generators"], "generators")]
    printed = inputs["main_effect_aliases"]
    assert isinstance(printed, dict)
    plan = fraction(len(printed), generators)
    words = {str(word) for word in to_list(inputs["defining_words"], "defining_words")}
    if set(plan.words) != words:
        raise ValueError(f"the words are {plan.words}, printed are {sorted(words)}")
    for letter, effects in printed.items():
        if set(plan.aliases_of(letter)) != set(effects):
            raise ValueError(f"{letter} goes with {plan.aliases_of(letter)}, printed are {effects}")
    return _factorial(inputs)


def _weighted(inputs: Inputs) -> Values:
    asked, answered, percent = (numbers(inputs, name) for name in ("population", "returned", "percent_female"))
    cells = [
        Cell(name=str(place), invited=of, answered=int(count), yes=count * share / 100)
        for place, (of, count, share) in enumerate(zip(asked, answered, percent, strict=True))
    ]
    found = weighted_share(cells)
    return {"weighted_share": found.estimate, "se": found.standard_error, "population_total": sum(asked)}


ADAPTERS = (
    _adapter("agreement", "ratings", _alphas),
    _adapter("factorial", "generators", _factorial),
    _adapter("factorial", "generators defining_words main_effect_aliases", _factorial_with_aliases),
    _adapter("weighting", "population returned percent_female", _weighted),
    _adapter("survey", "count n", _share),
    _adapter("survey", "count1 n1 count2 n2", _two_shares),
    _adapter("paired_binary", "table", _changed),
    _adapter("small_counts", "table", _rare),
    _adapter("two_means", "n1 mean1 sd1 n2 mean2 sd2", _two_lots),
    _adapter("paired", "group1 group2", _pairs),
    _adapter("paired", "rows", _ratings),
    _adapter("crossover", "seq_FS_period1_period2 seq_SF_period1_period2", _in_turn),
    _adapter("equivalence", "x y margin", _within_margin),
    _adapter("sample_size", "n_individual icc cluster_size p_control p_trial power alpha", _clusters),
    _adapter("sample_size", "power alpha", _standard_sizes),
    _adapter("sample_size", "control log_odds_ratio alpha power", _answers),
    _adapter("sample_size", "rate n_per_arm ratio_low ratio_high exposure dispersion alpha", _equal_rates),
    _adapter("sequential", "looks", _looks),
    _adapter("ordinal", "x y", _ranks),
    _adapter("agreement", "counts", _agreement),
    _adapter("multiplicity", "p_values", _several_p),
    _adapter("table", "J", _smallest_p, gives="p_min"),
    _adapter("table", "sb J phi", _least_effect, gives="mde"),
    _adapter("table", "rate dispersion rate_ratio", _rounds, gives="n_per_arm"),
    _adapter("table", "odds_ratio", _answers_by_odds, gives="n_total"),
    _adapter("table", "sd margin", _equal_means, gives="n_per_arm"),
)
