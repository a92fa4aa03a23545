"""What carries a published example to the code that it checks: an adapter goes by the topic and the names of the inputs."""

import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

_WRONG = "the input {name} is {value!r}; expected {what}"


class Unfit(Exception):
    """An example whose inputs cannot be read as they stand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Adapter:
    """Works out one kind of example.

    Attributes:
        topic: The topic that it answers to; empty where it takes any that no other adapter answers to.
        inputs: Names of inputs that must all be there; text besides them only describes the example.
        work_out: From the inputs to every value that can be checked, by name. Among the inputs are the names of the values that are asked
            for, under `asked`.
        gives: For tables of rows: names of the columns that it works out from the others.
        like: Pattern of the names of further inputs, of which at least one must be there; empty where there are none.
        to_decimals_shown: Whether every number is a measured one, which an example shows to some decimals; else numbers agree exactly.
    """

    topic: str
    inputs: frozenset[str]
    work_out: Callable[[Mapping[str, object]], Mapping[str, object]]
    gives: frozenset[str] = frozenset()
    to_decimals_shown: bool = False
    like: str = ""

    def takes(self, names: Collection[str], needed: Collection[str]) -> bool:
        """Whether all inputs are there, and all that is needed is taken."""
        further = [name for name in names if self.like and name not in self.inputs and re.fullmatch(self.like, name)]
        return self.inputs <= set(names) and set(needed) <= self.inputs | set(further) and bool(further) is bool(self.like)


def number(inputs: Mapping[str, object], name: str) -> float:
    """An input that is a number."""
    return to_number(inputs[name], name)


def whole(inputs: Mapping[str, object], name: str) -> int:
    """An input that is a whole number."""
    value = number(inputs, name)
    if value != int(value):
        raise Unfit(_WRONG.format(name=name, value=value, what="a whole number"))
    return int(value)


def numbers(inputs: Mapping[str, object], name: str) -> list[float]:
    """An input that is a list of numbers."""
    return [to_number(value, name) for value in to_list(inputs[name], name)]


def rows(inputs: Mapping[str, object], name: str) -> list[list[float]]:
    """An input that is a list of lists of numbers."""
    return [[to_number(value, name) for value in to_list(row, name)] for row in to_list(inputs[name], name)]


def to_number(value: object, name: str) -> float:
    """The value as a number."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Unfit(_WRONG.format(name=name, value=value, what="a number"))
    return float(value)


def to_list(value: object, name: str) -> Sequence[object]:
    """The value as a list."""
    if not isinstance(value, list):
        raise Unfit(_WRONG.format(name=name, value=value, what="a list"))
    return value
