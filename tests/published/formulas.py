"""Reads the formula of an example: response, terms, what rows hang together by, what is counted against, and which rows lean together.

`incidents ~ C(type)+C(year), offset log(service)`, `resp ~ age*smoke, clusters id`, `Reaction ~ Days + (Days|Subject)`. Terms become
columns of numbers; a text column is taken apart by its levels. The level that all others are held against is the one that no asked value
names; where the names do not say, the lowest of a scale that is known, else the first in the table of a tally, else the first by letter.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import pandas as pd
from patsy import EvalEnvironment, PatsyError, dmatrix

from tests.published.adapter import Unfit
from tests.published.datasets import Dataset

_SCALES = (
    ("none", "verylow", "low", "slight", "some", "medium", "mild", "moderate", "marked", "high", "severe", "veryhigh"),
    ("veryunlikely", "unlikely", "somewhatlikely", "likely", "verylikely"),
    ("stronglydisagree", "disagree", "neutral", "agree", "stronglyagree"),
    ("never", "rarely", "sometimes", "often", "always"),
    ("verypoor", "poor", "fair", "good", "verygood", "excellent"),
    ("no", "perhaps", "yes"),
    ("cold", "warm", "hot"),
    ("control", "placebo", "treated", "treatment"),
    ("muchworse", "worse", "same", "better", "muchbetter"),
)
_RANDOM = re.compile(r"\+?\s*\(\s*([^()|]+?)\s*\|\s*([\w.:/]+)\s*\)")
_REMARK = re.compile(r"\s+\([^()|~]*\s[^()|~]*\)\s*$")
_OPTION = re.compile(r"^(offset|exposure|clusters?|clustered by|groups?|weights?)\s*[:= (]\s*(.+?)\)?$")
_INSIDE = re.compile(r"\+?\s*\b(offset|exposure|cluster)\(((?:[^()]|\([^()]*\))+)\)")
_NAMES = {name: getattr(np, name) for name in ("log", "log2", "log10", "exp", "sqrt")}
_IN_R = ((r"\b(?:as\.)?factor\(", "C("), (r"\^", "**"), (r"\bordered\(", "C("))
"""How the language of statistics writes what is written otherwise here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Formula:
    """A formula taken apart.

    Attributes:
        response: What is explained.
        fixed: The terms.
        leaning: What leans by group, such as `Days`; empty where only the level does.
        group: By what rows lean together; empty where none do.
        options: Offset, exposure, clusters and weights, by name.
    """

    response: str
    fixed: str
    leaning: str = ""
    group: str = ""
    options: Mapping[str, str] = field(default_factory=dict)


def read_formula(text: str) -> Formula:
    """Take a formula apart.

    Raises:
        Unfit: It is none, or rows lean together in more than one way.
    """
    main, *rest = _split(_REMARK.sub("", text.strip()))
    options = {}
    for part in rest:
        if found := _OPTION.match(part.strip()):
            options[found.group(1)] = found.group(2) if found.group(2).count("(") == found.group(2).count(")") else found.group(2) + ")"
    for name, value in _INSIDE.findall(main):
        options[name] = value
    main = _INSIDE.sub("", _REMARK.sub("", main.strip()))
    leanings = _RANDOM.findall(main)
    response, tilde, fixed = _RANDOM.sub("", main).partition("~")
    if not tilde or len(leanings) > 1:
        raise Unfit(f"the formula {text!r} cannot be read")
    leaning, group = leanings[0] if leanings else ("", "")
    slope = "+".join(part for part in re.split(r"\s*\+\s*", leaning) if part not in {"1", ""})
    known = {
        {"cluster": "clusters", "clustered by": "clusters", "group": "clusters", "groups": "clusters", "weight": "weights"}.get(
            name, name
        ): value
        for name, value in options.items()
    }
    return Formula(response=response.strip(), fixed=fixed.strip().strip("+").strip() or "1", leaning=slope, group=group, options=known)


def _split(text: str) -> list[str]:
    """At the commas and semicolons that stand in no bracket."""
    parts, depth = [""], 0
    for letter in text:
        depth += (letter == "(") - (letter == ")")
        if letter in ",;" and depth == 0:
            parts.append("")
        else:
            parts[-1] += letter
    return parts


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table made ready for a model.

    Attributes:
        frame: Its rows.
        formula: The formula.
        terms: Its terms by name, each a number for every row; the intercept is left out.
        weights: How often each row counts; None where each counts once.
    """

    frame: pd.DataFrame
    formula: Formula
    terms: Mapping[str, Sequence[float]]
    weights: Sequence[float] | None

    def numbers(self, expression: str) -> list[float]:
        """A column, or what is worked out from columns."""
        return [float(value) for value in _worked_out(expression, self.frame)]

    def steps(self) -> list[float]:
        """The response as steps, the lowest first."""
        values = self.frame[self.formula.response]
        if pd.api.types.is_numeric_dtype(values):
            return [float(value) for value in values]
        order = _ordered([str(value) for value in values.unique()], is_tally=self.weights is not None)
        return [float(order.index(str(value))) for value in values]

    def yes(self) -> list[float]:
        """The response as yes and no."""
        found = self.steps()
        low, high = sorted(set(found)) if len(set(found)) == 2 else (0.0, 1.0)
        return [float(value == high) for value in found] if {low, high} != {0.0, 1.0} else found

    @property
    def has_steps(self) -> bool:
        """Whether the response is text, or few whole numbers from 1."""
        values = self.frame[self.formula.response] if self.formula.response in self.frame.columns else pd.Series([0.5])
        return not pd.api.types.is_numeric_dtype(values)

    @property
    def is_yes_no(self) -> bool:
        """Whether the response has two values."""
        return self.formula.response in self.frame.columns and self.frame[self.formula.response].nunique() == 2


def ready_table(dataset: Dataset, text: str, asked: Sequence[str]) -> Table:
    """A table with the terms of a formula as columns.

    Args:
        dataset: The table.
        text: The formula.
        asked: Names of the values that are asked for: they tell what is held against what.

    Raises:
        Unfit: The formula speaks of a column that the table does not have.
    """
    formula = read_formula(text)
    weights = formula.options.get("weights", dataset.weights)
    frame = dataset.frame.copy()
    for column in frame.columns:
        if not pd.api.types.is_numeric_dtype(frame[column]) and column != formula.response:
            levels = _from_reference([str(value) for value in frame[column].unique()], asked, is_tally=weights is not None)
            frame[column] = pd.Categorical(frame[column].astype(str), categories=levels)
    try:
        matrix = dmatrix(_here(formula.fixed), frame, EvalEnvironment([_NAMES]), NA_action="raise")
    except PatsyError as problem:
        raise Unfit(f"the formula {text!r} does not go with the table: {problem}") from None
    names = matrix.design_info.column_names
    terms = {name: [float(value) for value in matrix[:, place]] for place, name in enumerate(names) if name != "Intercept"}
    return Table(frame=frame, formula=formula, terms=terms, weights=None if weights is None else [float(v) for v in frame[weights]])


def _here(text: str) -> str:
    for pattern, other in _IN_R:
        text = re.sub(pattern, other, text)
    return text


def _worked_out(expression: str, frame: pd.DataFrame) -> np.ndarray:
    try:
        return np.asarray(dmatrix(f"0 + I({_here(expression)})", frame, EvalEnvironment([_NAMES])))[:, 0]
    except PatsyError as problem:
        raise Unfit(f"{expression!r} does not go with the table: {problem}") from None


def plain(text: str) -> str:
    """A name without anything but small letters and digits."""
    return re.sub(r"[^a-z0-9]", "", text.lower())


def _ordered(levels: Sequence[str], *, is_tally: bool) -> list[str]:
    known = next((scale for scale in _SCALES if {plain(level) for level in levels} <= set(scale)), None)
    if known is not None:
        return sorted(levels, key=lambda level: known.index(plain(level)))
    return list(levels) if is_tally else sorted(levels)


def _from_reference(levels: Sequence[str], asked: Sequence[str], *, is_tally: bool) -> list[str]:
    """The levels, the one that the others are held against first."""
    order = _ordered(levels, is_tally=is_tally)
    words = {word for name in asked for word in re.split(r"[^a-zA-Z0-9]+", name.lower())}
    named = [level for level in order if plain(level) in words]
    rest = [level for level in order if level not in named]
    return [*rest, *named] if named and len(rest) == 1 else order
