"""Whether the parts of a relief fit each other: a shape needs what it is measured from, a size, a line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from marram.rulebook.values import Value

_SIZED = frozenset({"disc", "disc-at-chosen-point", "disc-at-first-touch", "strip", "band-to-fairway"})
_ON_LINE = frozenset({"line", "strip", "disc-at-chosen-point", "disc-at-first-touch"})
_ABOUT_A_POINT = frozenset({"disc", "spot", "near-spot"})
_CLEAR_POINTS = frozenset({"nearest-point-of-complete-relief", "equal-arc-point"})
_LINE_POINT, _NONE = "point-on-line", "none"


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
    if shape in _ON_LINE and (reference != _LINE_POINT or values.get("line_from") == _NONE):
        yield f'shape {shape} lies on a line: it needs reference = "{_LINE_POINT}" and line_from'
    if shape in _ABOUT_A_POINT and reference in {_NONE, _LINE_POINT}:
        yield f"shape {shape} is measured from a point, and reference is {reference}; name the point"
    if reference in _CLEAR_POINTS and not values.get("clear_of"):
        yield f"reference {reference} needs clear_of: what the condition may no longer interfere with"
