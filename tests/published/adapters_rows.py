"""Adapters for examples of missing, outlying and counted rows, and for the simulated queue of groups."""

from collections.abc import Callable, Mapping
from statistics import fmean

from marram.evidence.models.far_out import farthest_by_chance, farthest_out
from marram.evidence.models.imputed import degrees_of_freedom, pool
from marram.evidence.planning.queue import queue_shown
from marram.evidence.rates import pooled_ratio, score_of_rates
from tests.published.adapter import Adapter, Unfit, number, numbers, whole
from tests.published.comparing import Drawn

Inputs = Mapping[str, object]
Values = Mapping[str, object]
_QUEUE = "all_current_round_min all_trial_round_min true_all_field_effect groups_randomised_within_day_estimate "
_QUEUE += "within_day_estimate_of_time_net_of_waiting lag1_correlation_of_successive_groups sd_of_day_mean"
_SAVED_MIN = 5.4
"""The heading of that table gives what the change saves a round without queues."""


def _rates(inputs: Inputs) -> Values:
    counts = (whole(inputs, "count1"), number(inputs, "exposure1"), whole(inputs, "count2"), number(inputs, "exposure2"))
    found, exact = score_of_rates(*counts), pooled_ratio(*counts)
    return {
        "ratio": found.ratio,
        "z": found.z,
        "p_one_sided": min(found.p_more, found.p_fewer),
        "p_two_sided": 2 * min(found.p_more, found.p_fewer),
        "p_exact": exact.p,
        "lower": exact.interval95.low,
        "upper": exact.interval95.high,
    }


def _far_out(inputs: Inputs) -> Values:
    values = numbers(inputs, "values")
    found = farthest_out(values)
    if found is None:
        raise Unfit("the values are all alike")
    sides = {"one_sided": False, "two_sided": True}
    parts = {"5pct": 0.05, "1pct": 0.01, "10pct": 0.10}
    alpha = number(inputs, "alpha") if "alpha" in inputs else 0.05
    whole_lot = {"G": found.distance, "place": found.place + 1, "index": found.place, "value": values[found.place]}
    whole_lot |= {f"critical_{side}": farthest_by_chance(len(values), alpha, both_ways=both) for side, both in sides.items()}
    return (
        whole_lot
        | {"critical": whole_lot["critical_two_sided"]}
        | {
            f"critical_{side}_{name}": farthest_by_chance(len(values), part, both_ways=both_ways)
            for side, both_ways in sides.items()
            for name, part in parts.items()
        }
    )


def _freedom(inputs: Inputs) -> Values:
    return {"df": degrees_of_freedom(whole(inputs, "m"), number(inputs, "r"))}


def _fillings(inputs: Inputs) -> Values:
    variances = numbers(inputs, "variances") if "variances" in inputs else [error**2 for error in numbers(inputs, "standard_errors")]
    found = pool(numbers(inputs, "estimates"), variances)
    ends, within = found.interval(0.95), fmean(variances)
    between = found.increase * within / (1 + 1 / len(variances))
    return {
        **dict.fromkeys(("estimate", "pooled", "mean"), found.estimate),
        **dict.fromkeys(("se", "standard_error"), found.standard_error),
        **dict.fromkeys(("total_variance", "total", "T"), found.standard_error**2),
        **dict.fromkeys(("within", "W", "U"), within),
        **dict.fromkeys(("between", "B"), between),
        **{"r": found.increase, "df": found.freedom, "lower": ends.low, "upper": ends.high},
    }


def _queue(inputs: Inputs) -> Values:
    found = queue_shown(_SAVED_MIN, interval_min=number(inputs, "start_interval_min"))
    # A mean round of a day has the error of its spread; the spread itself and the correlation are known to about a thirtieth of themselves.
    of_mean = found.sd_of_day_mean_min / found.days**0.5
    values: tuple[object, ...] = (
        Drawn(found.ordinary_min, of_mean),
        Drawn(found.trial_min, of_mean),
        Drawn(found.all_field_min, found.all_field_error_min),
        Drawn(found.within_day_min, found.within_day_error_min),
        Drawn(found.within_day_net_min, found.within_day_net_error_min),
        Drawn(found.lag_correlation, found.lag_correlation_error),
        Drawn(found.sd_of_day_mean_min, found.sd_of_day_mean_min / (2 * found.days) ** 0.5),
    )
    return dict(zip(_QUEUE.split(), values, strict=True))


def _adapter(topic: str, inputs: str, work_out: Callable[[Inputs], Values], *, gives: str = "") -> Adapter:
    return Adapter(topic=topic, inputs=frozenset(inputs.split()), work_out=work_out, gives=frozenset(gives.split()), to_decimals_shown=True)


ADAPTERS = (
    _adapter("counts", "count1 exposure1 count2 exposure2", _rates),
    _adapter("small_counts", "count1 exposure1 count2 exposure2", _rates),
    _adapter("outliers", "values", _far_out),
    _adapter("missing", "m r", _freedom),
    _adapter("missing", "estimates variances", _fillings),
    _adapter("missing", "estimates standard_errors", _fillings),
    _adapter("outliers", "values alpha", _far_out),
    _adapter("table", "start_interval_min", _queue, gives=_QUEUE),
)
