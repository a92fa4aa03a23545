"""What models found, by the names that examples give to values.

A name is read from its parts: `se_`, `p_`, `z_`, `lower_`, `upper_` and `ratio_` before (or behind) the name of a term; the name of the
model before it where two were fitted (`nb_`, `poisson_`); and the term by its factor, its level, or both (`type_B`, `tempwarm`,
`infl_medium`, `age_smoke`). Where more than one term fits a name, it is not read.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import exp
from statistics import NormalDist

from marram.evidence.models.fitted import Coefficient
from tests.published.formulas import plain

_PART = re.compile(r"^(?:C\()?([^()\[\],]+?)(?:,[^()]*)?\)?(?:\[T?\.?([^\]]+)\])?$")
_CONSTANT = ("intercept", "constant", "const", "cons")
_TRUE = frozenset({"yes", "true", "1"})
_LARGE = 1e9
"""Degrees of freedom of the normal distribution."""
_STATISTICS: Mapping[str, Callable[[Coefficient], float]] = {
    "se": lambda c: c.standard_error,
    "stderr": lambda c: c.standard_error,
    "z": lambda c: c.estimate / c.standard_error,
    "t": lambda c: c.estimate / c.standard_error,
    "p": lambda c: 2 * NormalDist().cdf(-abs(c.estimate) / c.standard_error),
    "lower": lambda c: c.interval(0.95, _LARGE).low,
    "upper": lambda c: c.interval(0.95, _LARGE).high,
    **dict.fromkeys(("ratio", "or", "rr", "irr", "oddsratio", "rateratio", "exp"), lambda c: exp(c.estimate)),
    **dict.fromkeys(("coef", "beta", "b", "est", "effect", "log"), lambda c: c.estimate),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """What one model found: its terms, and everything else by name."""

    terms: Sequence[Coefficient]
    others: Mapping[str, float]


class NamedValues(Mapping[str, object]):
    """Values of one or more fitted models, found by the name that an example gives them."""

    def __init__(self, fits: Mapping[str, Fit], default: str) -> None:
        self.fits, self.default = fits, default

    def __getitem__(self, name: str) -> object:
        for fit, rest in self._fits_of(name.lower()):
            found = _value(fit, rest)
            if found is not None:
                return found
        raise KeyError(name)

    def __iter__(self) -> Iterator[str]:
        fit = self.fits[self.default]
        return iter((*(term.name for term in fit.terms), *fit.others))

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def _fits_of(self, name: str) -> Iterator[tuple[Fit, str]]:
        """The models that a name may mean, and what is left of the name."""
        for short, fit in self.fits.items():
            if name.startswith(f"{short}_"):
                yield fit, name.removeprefix(f"{short}_")
            elif name.endswith(f"_{short}"):
                yield fit, name.removesuffix(f"_{short}")
        yield self.fits[self.default], name
        yield from ((fit, name) for short, fit in self.fits.items() if short != self.default)


def _value(fit: Fit, name: str) -> float | None:
    others = {plain(key): value for key, value in fit.others.items()}
    if plain(name) in others:
        return others[plain(name)]
    term = find_term(fit.terms, name)
    if term is not None:
        return term.estimate
    for short, read in _STATISTICS.items():
        for rest in (name.removeprefix(f"{short}_"), name.removesuffix(f"_{short}")):
            term = find_term(fit.terms, rest) if rest != name else None
            if term is not None:
                return read(term)
    return None


def find_term(terms: Sequence[Coefficient], name: str) -> Coefficient | None:
    """The one term that a name means; None where none does, or more than one."""
    slopes = [term for term in terms if term.name.lower() not in _CONSTANT]
    if plain(name) in _CONSTANT:
        return next((term for term in terms if term.name.lower() in _CONSTANT), None)
    if plain(name) == "slope":
        return slopes[0] if len(slopes) == 1 else None
    exact = [term for term in slopes if plain(name) in _spellings(term.name)]
    near = exact or [term for term in slopes if _is_near(term.name, [word for word in re.split(r"[^a-z0-9]+", name.lower()) if word])]
    return near[0] if len(near) == 1 else None


def _parts(term: str) -> list[tuple[str, str]]:
    """Factor and level of each part of a term; a column of numbers has no level."""
    found = [_PART.match(part.strip()) for part in term.split(":")]
    return [(plain(part.group(1)), plain(part.group(2) or "")) if part else (plain(term), "") for part in found]


def _spellings(term: str) -> set[str]:
    """How a term may be written, its parts in either order."""
    found = {""}
    parts = _parts(term)
    for factor, level in parts:
        own = {factor + level, *({level} if level else ()), *({factor} if level in _TRUE else ())}
        found = {before + one for before in found for one in own} | (
            {one + before for before in found for one in own} if len(parts) > 1 else set()
        )
    return found


def _is_near(term: str, words: Sequence[str]) -> bool:
    """Whether each word begins like a factor or a level of the term, or the other way round, and every part of the term is named."""

    def is_like(word: str, other: str) -> bool:
        shorter = min(len(word), len(other))
        return word == other or (shorter >= 3 and word[:shorter] == other[:shorter])

    parts = _parts(term)
    spelled = [[side for side in part if side] for part in parts]
    all_told = all(any(is_like(word, side) for sides in spelled for side in sides) for word in words)
    each_named = all(any(is_like(word, level or factor) for word in words) or level in _TRUE for factor, level in parts)
    return bool(words) and all_told and each_named
