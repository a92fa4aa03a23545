"""A value drawn by chance agrees within its Monte Carlo error and no further; tables may hold lists under the names of their columns."""

import pytest

from tests.published.comparing import Drawn, compare
from tests.published.run import read_examples


@pytest.mark.parametrize(
    ("expected", "drawn", "agree"),
    [
        (-1.0, Drawn(-1.4, 0.1), True),  # three errors of a difference of two draws are 0.424, and half a tenth more is not shown
        (-1.0, Drawn(-1.5, 0.1), False),
        (-1.0, Drawn(-0.5, 0.1), False),
        (279.1, Drawn(279.14, 0.0), True),
        (279.1, Drawn(279.2, 0.0), False),
    ],
)
def test_a_drawn_value_agrees_within_its_error(expected: float, drawn: Drawn, agree: bool) -> None:
    assert (not list(compare("value", expected, drawn))) is agree


def test_a_tolerance_that_is_stated_holds_instead() -> None:
    assert list(compare("value", 1.0, Drawn(1.3, 0.5), 0.2))
    assert not list(compare("value", 1.0, Drawn(1.3, 0.0), 0.4))


def test_rows_are_read_by_the_columns_over_them() -> None:
    def read(entry: dict[str, object]) -> list[object]:
        return [example.inputs for example in read_examples({"own_planning_examples": [{"id": "a", **entry}]})[0]]

    assert read({"columns": ["x", "y"], "rows": [[1, 2], [3, 4]]}) == [{"x": 1, "y": 2}, {"x": 3, "y": 4}]
    assert read({"rows": [{"x": 1, "y": 2}]}) == [{"x": 1, "y": 2}]
    assert read({"columns": ["x"], "rows": [[1, 2]]}) == [{}]  # which no adapter takes: it fails by name
    assert read({"rows": [[1, 2]]}) == [{}]
