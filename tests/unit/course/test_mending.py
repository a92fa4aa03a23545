"""Outlines that are not sound: what mending leaves, and what its words say."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPolygon, Polygon, box

from marram.course.mending import close_rings, has_crossed, is_slight, mend

BOW_TIE = Polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
"""Two triangles of 25 m² each that meet at a point."""
NEARLY_SOUND = Polygon([(0, 0), (10, 0), (10, 10), (0.5, 10), (0, 10.5), (0.5, 10.5), (0, 10)])
"""A square of 10 m with a crossed corner of an eighth of a square metre or less."""


def test_a_sound_outline_stays_as_it_is() -> None:
    for sound in (box(0, 0, 3, 4), LineString([(0, 0), (5, 5)])):
        assert mend(sound).geometry is sound
        assert mend(sound).how == ""


def test_a_bow_tie_becomes_two_triangles() -> None:
    mended = mend(BOW_TIE)
    assert mended.geometry.is_valid
    assert mended.geometry.area == pytest.approx(50, abs=1e-6)
    assert "2 parts of 50.0 m²" in mended.how
    assert "0.0 m² by its corners before" in mended.how
    assert not is_slight(mended.how)


def test_what_lies_twice_counts_once() -> None:
    mended = mend(MultiPolygon([box(0, 0, 10, 10), box(5, 0, 15, 10)]))
    assert mended.geometry.area == pytest.approx(150, abs=1e-6)
    assert "200.0 m² by its corners before" in mended.how
    assert "changed 50.0 m²" in mended.how


def test_a_crossed_corner_is_slight() -> None:
    mended = mend(NEARLY_SOUND)
    assert mended.geometry.is_valid
    assert mended.how
    assert is_slight(mended.how)


def test_mended_ground_lies_on_whole_millimetres() -> None:
    mended = mend(Polygon([(0, 0), (10.001, 9.997), (10, 0.003), (0.002, 10)]))
    assert all(round(value, 3) == value for value in shapely.get_coordinates(mended.geometry).ravel().tolist())
    assert mended.geometry.is_valid


@settings(max_examples=200, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 400), st.integers(0, 400)), min_size=4, max_size=12, unique=True))
def test_whatever_the_ring_it_is_sound_on_the_grid_and_mended_once(corners_mm: list[tuple[int, int]]) -> None:
    """Rings of a few decimetres, where the millimetre grid matters most: crossings fall between its points."""
    mended = mend(Polygon([(x_mm / 1000, y_mm / 1000) for x_mm, y_mm in corners_mm])).geometry
    assert mended.is_valid
    assert all(round(value, 3) == value for value in shapely.get_coordinates(mended).ravel().tolist())
    read_back = mend(shapely.transform(mended, lambda xy: (xy + 0.0001).round(3)))
    assert read_back.how == ""
    assert read_back.geometry == mended


def test_an_outline_on_one_line_holds_no_ground() -> None:
    assert mend(Polygon([(0, 0), (5, 5), (10, 10)])).geometry.is_empty


@pytest.mark.parametrize(
    ("how", "slight"),
    [
        ("a ring was open; it was closed by a straight side of 0.4 m", True),
        ("a ring was open; it was closed by a straight side of 12.0 m", False),
        ("a ring was open; it was closed by a straight side", False),
        ("the outline crossed itself; it was mended to 2 parts of 9.0 m² together", False),
        ("the outline crossed itself; it was mended (so mending changed 0.3 m²)", True),
        ("a ring was open; it was closed by a straight side of 0.4 m; the outline crossed itself; it was mended", False),
        ("the ring was open and was closed by a straight side of 0.2 m; 3 of its corners are not in the file", False),
        ("drawn again by eye", False),
        ("", False),
    ],
)
def test_words_tell_whether_it_matters(how: str, slight: bool) -> None:
    """What gives no number is not taken for slight."""
    assert is_slight(how) is slight


def test_words_tell_a_crossing_from_an_open_ring() -> None:
    assert has_crossed(mend(BOW_TIE).how)
    assert not has_crossed("a ring was open; it was closed by a straight side of 0.4 m")


def test_open_rings_are_closed_and_named() -> None:
    closed = close_rings({"type": "Polygon", "coordinates": [[[0, 0], [1, 0], [1, 1]], [[0.5, 0.2], [0.6, 0.2], [0.6, 0.3], [0.5, 0.2]]]})
    assert closed.geometry["coordinates"][0][-1] == [0, 0]  # type: ignore[index]
    assert closed.sides == (([0, 0], [1, 1]),)


@pytest.mark.parametrize(
    "raw",
    [{"type": "LineString", "coordinates": [[0, 0], [1, 1], [2, 0]]}, {"type": "Polygon", "coordinates": 7}, {"type": "MultiPolygon"}],
)
def test_what_has_no_rings_is_left_alone(raw: dict[str, object]) -> None:
    assert close_rings(raw).geometry is raw
    assert close_rings(raw).sides == ()
