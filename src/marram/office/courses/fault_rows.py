"""The faults of a course as a list to work through: one row for what is alike, each with what a click can do about it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from marram.core.words import counted
from marram.course.check.faults import Fault, FaultKind, Weight
from marram.course.course import Course
from marram.course.frame import Position
from marram.office.courses.mend_course import Remedy, proposed_numbers, remedies_of

_ALIKE, _MANY = 3, 9
"""So many faults of a kind, or more, stand in one row; water, where each asks for a decision, only when it is much."""
_EACH_ALONE = frozenset({FaultKind.MISSING_HOLE, FaultKind.NO_BOUNDARY, FaultKind.BOUNDARY_ASSUMED})


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultToMend:
    """A fault with what can be done about it."""

    fault: Fault
    remedies: tuple[Remedy, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultRow:
    """A row of the list.

    Attributes:
        number: Its number, in the list and on the plan.
        faults: The fault, or several that are alike.
        noun: What the features of several faults are, where all are of one kind; empty where they are not.
    """

    number: int
    faults: tuple[FaultToMend, ...]
    noun: str = ""

    @property
    def things(self) -> str:
        """How many there are, with what they are."""
        return counted(len(self.faults), self.noun or "feature")

    @property
    def kind(self) -> FaultKind:
        """What is wrong."""
        return self.faults[0].fault.kind

    @property
    def weight(self) -> Weight:
        """How it weighs."""
        return self.faults[0].fault.weight

    @property
    def stops_rulings(self) -> bool:
        """Whether it stops rulings."""
        return self.faults[0].fault.stops_rulings

    @property
    def places(self) -> tuple[Position, ...]:
        """Where to go and look."""
        return tuple(each.fault.at for each in self.faults if each.fault.at is not None)


def list_faults(course: Course, survey: Course, faults: Sequence[Fault]) -> tuple[FaultRow, ...]:
    """Number the faults of a course, those that are alike in one row.

    Args:
        course: The course as it was checked, with the day on it where there is one.
        survey: The course as it was surveyed: what is put right is put right there.
        faults: Its faults, in their order.
    """
    proposed = proposed_numbers(survey)
    kinds = {feature.id: feature.noun for feature in course.features}
    alike: dict[object, list[Fault]] = {}
    for place, fault in enumerate(faults):
        key = (fault.kind, fault.weight, kinds.get(fault.feature, "") if fault.kind is FaultKind.SERVES_NO_HOLE else "")
        alike.setdefault(place if fault.kind in _EACH_ALONE else key, []).append(fault)
    rows = enumerate(_split(list(alike.values())), start=1)
    return tuple(
        FaultRow(
            number=number,
            faults=tuple(FaultToMend(fault=fault, remedies=remedies_of(survey, fault, proposed)) for fault in together),
            noun=_noun([kinds.get(fault.feature, "") for fault in together]),
        )
        for number, together in rows
    )


def _noun(nouns: Sequence[str]) -> str:
    return nouns[0] if len(set(nouns)) == 1 else ""


def _split(groups: Sequence[list[Fault]]) -> Iterator[list[Fault]]:
    """Few that are alike stand alone."""
    for group in groups:
        if len(group) < (_MANY if group[0].kind is FaultKind.UNMARKED_WATER else _ALIKE):
            yield from ([fault] for fault in group)
        else:
            yield group
