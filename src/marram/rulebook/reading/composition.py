"""Whether the parts of a relief fit each other: a shape needs what it is measured from, a size, a line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from marram.rulebook.values import Value
from marram.rulebook.vocabulary import LineFrom, MeasuredFrom, ReliefShape

_Shape = ReliefShape
_SIZED = frozenset({_Shape.DISC, _Shape.DISC_AT_CHOSEN_POINT, _Shape.DISC_AT_FIRST_TOUCH, _Shape.STRIP, _Shape.BAND_TO_FAIRWAY})
_ON_LINE = frozenset({_Shape.LINE, _Shape.STRIP, _Shape.DISC_AT_CHOSEN_POINT, _Shape.DISC_AT_FIRST_TOUCH})
_ABOUT_A_POINT = frozenset({_Shape.DISC, _Shape.SPOT, _Shape.NEAR_SPOT})
_CLEAR_POINTS = frozenset({MeasuredFrom.NEAREST_POINT_OF_COMPLETE_RELIEF, MeasuredFrom.EQUAL_ARC_POINT})
_LINE_POINT = MeasuredFrom.POINT_ON_LINE


def faults_of_relief(values: Mapping[str, Value]) -> Iterator[str]:
    """What does not fit in a relief, in words.

    Args:
        values: What a row of the form *relief procedure* says, its defaults among them.
    """
    if values.get("allowed") is not True or values.get("follow"):
        return
    shape, reference = values.get("shape"), values.get("reference")
    if shape in _SIZED and "size" not in values:
        yield f"shape {shape} needs a size, such as size = {{ club_lengths = 1 }}"
    if shape in _ON_LINE and (reference != _LINE_POINT or values.get("line_from") == LineFrom.NONE):
        yield f'shape {shape} lies on a line: it needs reference = "{_LINE_POINT}" and line_from'
    if shape in _ABOUT_A_POINT and reference in {MeasuredFrom.NONE, _LINE_POINT}:
        yield f"shape {shape} is measured from a point, and reference is {reference}; name the point"
    if reference in _CLEAR_POINTS and not values.get("clear_of"):
        yield f"reference {reference} needs clear_of: what the condition may no longer interfere with"
