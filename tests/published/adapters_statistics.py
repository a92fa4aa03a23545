"""Adapters for examples of statistics: they hand the inputs to the evidence package and give back what it says, by the names of the examples."""

from collections.abc import Mapping
from math import sqrt

from marram.evidence.effects import paired_days
from marram.evidence.shares import share
from marram.evidence.sizes import design_effect, least_effect, players_per_arm, sd_of_paired_days, units_per_arm
from tests.published.adapter import Adapter, number, numbers, whole

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


def _clusters(inputs: Inputs) -> Values:
    effect = design_effect(number(inputs, "cluster_size"), number(inputs, "icc"))
    needed = number(inputs, "n_individual") * effect
    clusters = int(needed / number(inputs, "cluster_size"))  # the source rounds down: 24 clusters of 46 are 1104, the 1105 wanted
    recomputed = 2 * players_per_arm(number(inputs, "p_control"), number(inputs, "p_trial"), power=number(inputs, "power"))
    return {
        "design_effect": effect,
        "n_total": clusters * number(inputs, "cluster_size"),
        "clusters": clusters,
        "n_individual_recomputed": recomputed,
    }


def _standard_sizes(inputs: Inputs) -> Values:
    power = number(inputs, "power")
    return {name: units_per_arm(effect, 1.0, power=power) for name, effect in (("n_d02", 0.2), ("n_d05", 0.5), ("n_d08", 0.8))}


def _smallest_p(inputs: Inputs) -> Values:
    pairs = whole(inputs, "J")
    return {"p_min": paired_days([(str(place), 1.0 + place, 0.0) for place in range(pairs)]).p_sign_flip}


def _least_effect(inputs: Inputs) -> Values:
    # the heading of that table gives 10 min between groups and 25 groups for every row
    sd = sd_of_paired_days(between_days=number(inputs, "sb"), between_groups=10.0, groups=25, lag_correlation=number(inputs, "phi"))
    return {"mde": least_effect(whole(inputs, "J"), sd)}


ADAPTERS = (
    Adapter(topic="survey", inputs=frozenset({"count", "n"}), work_out=_share),
    Adapter(topic="paired", inputs=frozenset({"group1", "group2"}), work_out=_pairs),
    Adapter(
        topic="sample_size", inputs=frozenset({"n_individual", "icc", "cluster_size", "p_control", "p_trial", "power"}), work_out=_clusters
    ),
    Adapter(topic="sample_size", inputs=frozenset({"power", "alpha"}), work_out=_standard_sizes),
    Adapter(topic="table", inputs=frozenset({"J"}), gives=frozenset({"p_min"}), work_out=_smallest_p),
    Adapter(topic="table", inputs=frozenset({"sb", "J", "phi"}), gives=frozenset({"mde"}), work_out=_least_effect),
)
