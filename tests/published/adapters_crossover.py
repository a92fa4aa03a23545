"""Adapter for units that took two treatments in either order, whatever the treatments are called; the same from differences and by least
squares on units, periods and treatments, which must agree."""

import re
from collections.abc import Mapping

from marram.evidence.fitting.least_squares import fit
from marram.evidence.groups import MeanDifference, compare_in_turn
from tests.published.adapter import Adapter, Unfit, number, rows

Inputs = Mapping[str, object]
_SEQUENCE = re.compile(r"seq(?:uence)?_?([A-Za-z])([A-Za-z])(?:_\w+)?")


def _in_turn(inputs: Inputs) -> Mapping[str, object]:
    orders = {told.groups(): rows(inputs, name) for name in inputs if (told := _SEQUENCE.fullmatch(name))}
    wanted, other = _treatments(orders, str(inputs.get("treatment", "")))
    first, second = ([(one, two) for one, two in orders[order]] for order in ((wanted, other), (other, wanted)))
    found = compare_in_turn(first, second)
    if abs(_by_least_squares(first, second) - found.estimate) > 1e-9 * (1 + abs(found.estimate)):
        raise ValueError("least squares on units, periods and treatments give another effect")
    plain = [one - two for one, two in first] + [two - one for one, two in second]
    return _named(found) | _within(found, inputs) | {"unadjusted_mean_difference": sum(plain) / len(plain)}


def _treatments(orders: Mapping[tuple[str | None, ...], object], told: str) -> tuple[str, str]:
    """Which treatment less which: as the example says, else the later letter less the earlier, such as test less reference."""
    letters = sorted({letter for order in orders for letter in order if letter})
    said = re.match(r"\s*([A-Za-z]) (?:minus|less|-) ([A-Za-z])", told)
    pair = (said[1], said[2]) if said else (letters[-1], letters[0])
    if set(orders) != {pair, pair[::-1]}:
        raise Unfit(f"the orders are {sorted(orders)}; expected two treatments in either order")
    return pair


def _by_least_squares(first: list[tuple[float, float]], second: list[tuple[float, float]]) -> float:
    units = [(unit, True) for unit in first] + [(unit, False) for unit in second]
    values = [value for unit, _ in units for value in unit]
    period = [float(place % 2) for place in range(len(values))]
    treated = [float(is_first is (place == 0)) for _, is_first in units for place in (0, 1)]
    own = [[float(place // 2 == number) for place in range(len(values))] for number in range(len(units))]
    return fit(values, [treated, period, *own]).coefficients[0]


def _named(found: MeanDifference) -> dict[str, object]:
    limits: dict[str, object] = {}
    for level, ends in (("95", found.interval95), ("90", found.interval90)):
        for side, value in (("lower", ends.low), ("upper", ends.high)):
            limits |= dict.fromkeys((f"{side}{level}", f"{side}_{level}", f"ci{level}_{side}"), value)
    return {
        **dict.fromkeys(("effect", "difference", "diff", "mean_diff", "estimate"), found.estimate),
        **{"se": found.standard_error, "df": found.degrees_of_freedom, "t": found.estimate / found.standard_error, "p": found.p},
        **{"lower": found.interval95.low, "upper": found.interval95.high},
        **limits,
    }


def _within(found: MeanDifference, inputs: Inputs) -> dict[str, object]:
    """The larger of the two one-sided p where a margin is given."""
    from scipy.stats import t

    if "margin" in inputs:
        low, high = -number(inputs, "margin"), number(inputs, "margin")
    elif {"low", "upp"} <= set(inputs):
        low, high = number(inputs, "low"), number(inputs, "upp")
    else:
        return {}
    sides = [(found.estimate - low) / found.standard_error, (high - found.estimate) / found.standard_error]
    return dict.fromkeys(("p_tost", "p"), max(float(t.sf(side, found.degrees_of_freedom)) for side in sides))


ADAPTERS = (
    Adapter(
        topic="crossover",
        inputs=frozenset(),
        like=r"seq(uence)?_?[A-Za-z]{2}(_\w+)?|margin|low|upp",
        work_out=_in_turn,
        to_decimals_shown=True,
    ),
)
