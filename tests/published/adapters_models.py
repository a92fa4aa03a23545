"""Adapters for examples that name a table and a formula: which model is meant follows from the formula, the response and the title."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import pandas as pd

from marram.evidence.models.count_model import CountFit, fit_counts
from marram.evidence.models.fitted import Coefficient
from marram.evidence.models.mixed_model import fit_mixed
from marram.evidence.models.odds_model import proportional_odds
from marram.evidence.models.random_odds import odds_within_players
from marram.evidence.models.yes_no_model import fit_yes_no
from tests.published.adapter import Adapter, Unfit
from tests.published.datasets import Dataset, read_dataset
from tests.published.formulas import Table, ready_table
from tests.published.named_values import Fit, NamedValues

Inputs = Mapping[str, object]
_WIDE = re.compile(r"negative binomial|\bnb\d?\b", re.IGNORECASE)
_CHANCE = re.compile(r"poisson|overdispers", re.IGNORECASE)
_STEPS = re.compile(r"proportional[ -]odds|cumulative (?:logit|link)|ordered logit|ordinal", re.IGNORECASE)


def _fitted(inputs: Inputs) -> Mapping[str, object]:
    asked = inputs.get("asked", ())
    assert isinstance(asked, tuple)
    table = ready_table(_dataset(inputs), str(inputs["formula"]), asked)
    return _route(table, str(inputs.get("title", "")))(table, str(inputs.get("title", "")))


def _dataset(inputs: Inputs) -> Dataset:
    """The table that is named, or the columns that stand in the example itself."""
    if "dataset" in inputs:
        return read_dataset(str(inputs["dataset"]))
    columns = {name: value for name, value in inputs.items() if isinstance(value, list)}
    if len({len(value) for value in columns.values()}) != 1:
        raise Unfit("the columns are not of one length")
    weights = next((name for name in columns if name.lower() in {"freq", "weight", "weights", "count_of"}), None)
    return Dataset(frame=pd.DataFrame(columns), weights=weights)


def _route(table: Table, title: str) -> Callable[[Table, str], NamedValues]:
    """Which model is meant."""
    has_steps = table.has_steps and not table.is_yes_no
    if table.formula.group:
        return _random_odds if has_steps or _STEPS.search(title) else _mixed
    if _WIDE.search(title) or _CHANCE.search(title):
        return _counts
    if has_steps or _STEPS.search(title):
        return _odds
    if table.is_yes_no and "clusters" in table.formula.options:
        return _yes_no
    if "offset" in table.formula.options or "exposure" in table.formula.options:
        return _counts
    raise Unfit(f"no model is known for {table.formula.response} ~ {table.formula.fixed}, {title!r}")


def _clusters(table: Table) -> list[str] | None:
    name = table.formula.options.get("clusters")
    return None if name is None else [str(value) for value in table.frame[name]]


def _counts(table: Table, title: str) -> NamedValues:
    from math import exp

    options, counts = table.formula.options, table.numbers(table.formula.response)
    exposure = [exp(value) for value in table.numbers(options["offset"])] if "offset" in options else None
    exposure = table.numbers(options["exposure"]) if "exposure" in options else exposure
    plain = fit_counts(counts, table.terms, exposure=exposure, clusters=_clusters(table))
    root = plain.dispersion**0.5
    wider = [replace(term, standard_error=term.standard_error * root) for term in plain.terms]
    fits = {"poisson": _count_fit(plain), "quasi": Fit(terms=wider, others={})}
    if _WIDE.search(title):
        fits["nb"] = _count_fit(fit_counts(counts, table.terms, exposure=exposure, clusters=_clusters(table), is_wide=True))
        gain = 2 * (fits["nb"].others["loglik"] - fits["poisson"].others["loglik"])
        fits["nb"] = Fit(terms=fits["nb"].terms, others={**fits["nb"].others, "lr": gain, "likelihood_ratio": gain})
    return NamedValues(fits, "nb" if "nb" in fits else "poisson")


def _count_fit(found: CountFit) -> Fit:
    others = {
        "alpha": found.alpha,
        "loglik": found.log_likelihood,
        "df": found.freedom,
        "pearson_dispersion": found.dispersion,
        "dispersion": found.dispersion,
        "pearson_chi2": found.dispersion * found.freedom,
        "aic": -2 * found.log_likelihood + 2 * (len(found.terms) + bool(found.alpha)),
    }
    if found.alpha:
        others["theta"] = 1 / found.alpha
    if found.deviance is not None:
        others["deviance"] = found.deviance
    return Fit(terms=found.terms, others=others)


def _odds(table: Table, _: str) -> NamedValues:
    clusters = _clusters(table)
    found = proportional_odds(table.steps(), table.terms, weights=table.weights, clusters=() if clusters is None else (clusters,))
    others = {"loglik": found.log_likelihood, "deviance": found.deviance}
    others |= {"aic": found.deviance + 2 * (len(found.terms) + len(found.cuts))}
    return NamedValues({"odds": Fit(terms=(*found.terms, *found.cuts), others=others | _cuts(found.cuts))}, "odds")


def _random_odds(table: Table, _: str) -> NamedValues:
    if table.formula.leaning:
        raise Unfit("a slope of its own for each player is not fitted to answers in steps")
    group = table.formula.group
    found = odds_within_players(table.steps(), table.terms, [str(value) for value in table.frame[group]])
    others = {
        "loglik": found.log_likelihood,
        "variance": found.variance,
        f"{group}_variance": found.variance,
        f"var_{group}": found.variance,
    }
    others |= {"sd": found.variance**0.5, f"{group}_sd": found.variance**0.5, "deviance": -2 * found.log_likelihood}
    return NamedValues({"odds": Fit(terms=(*found.terms, *found.cuts), others=others | _cuts(found.cuts))}, "odds")


def _cuts(cuts: Sequence[Coefficient]) -> dict[str, float]:
    words = ("cut{}", "threshold{}", "theta{}", "zeta{}", "{}|{next}", "cut_{}|{next}")
    return {word.format(place, next=place + 1): cut.estimate for place, cut in enumerate(cuts, start=1) for word in words}


def _mixed(table: Table, _: str) -> NamedValues:
    group, slope = table.formula.group, table.formula.leaning
    if slope and slope not in table.terms:
        raise Unfit(f"the slope of {slope} is no term of the formula")
    found = fit_mixed(table.numbers(table.formula.response), table.terms, [str(value) for value in table.frame[group]], slope=slope)
    others = {
        **dict.fromkeys(("var_intercept", "between", f"var_{group}", f"{group}_variance"), found.between),
        **dict.fromkeys(("residual", "within", "var_residual", "residual_variance", "sigma2"), found.within),
        **dict.fromkeys(("sd_intercept", f"sd_{group}"), found.between**0.5),
        **dict.fromkeys(("sd_residual", "sigma"), found.within**0.5),
        **dict.fromkeys(("loglik", "loglik_reml"), found.log_likelihood),
        **dict.fromkeys(("reml_criterion", "remldeviance", "deviance_reml"), -2 * found.log_likelihood),
        "icc": found.icc,
    }
    if found.slope_between is not None and found.intercept_with_slope is not None:
        others |= dict.fromkeys(("var_slope", f"var_{slope}"), found.slope_between) | {"sd_slope": found.slope_between**0.5}
        others |= dict.fromkeys(("cov", "covariance", "cov_intercept_slope"), found.intercept_with_slope)
        others |= dict.fromkeys(("corr", "correlation"), found.intercept_with_slope / (found.between * found.slope_between) ** 0.5)
    return NamedValues({"mixed": Fit(terms=found.terms, others=others)}, "mixed")


def _yes_no(table: Table, _: str) -> NamedValues:
    clusters = _clusters(table)
    assert clusters is not None
    found = fit_yes_no(table.yes(), table.terms, clusters)
    others = {**dict.fromkeys(("alpha", "correlation", "rho"), found.correlation), "clusters": float(found.clusters)}
    return NamedValues({"gee": Fit(terms=found.terms, others=others)}, "gee")


_TOPICS = ("counts", "ordinal", "mixed", "")
ADAPTERS = (
    *(Adapter(topic=topic, inputs=frozenset({"dataset", "formula"}), work_out=_fitted, to_decimals_shown=True) for topic in _TOPICS),
    Adapter(topic="", inputs=frozenset({"formula"}), like=r"\w+", work_out=_fitted, to_decimals_shown=True),
)
