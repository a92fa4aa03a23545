"""The map of a phone: the area large, with a metre beyond it, whatever its size and wherever it lies."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from marram.sheets.scene.map_layout import WIDE, layout_of, narrow_window
from marram.sheets.scene.rendering import Rendering

PHONE = layout_of(Rendering(is_map_alone=True, width_px=360.0))
METRES = st.floats(-2000, 2000)


def test_a_phone_has_its_own_layout_and_a_page_keeps_the_wide_one() -> None:
    assert PHONE.is_narrow
    assert 270 <= PHONE.height <= 316
    assert layout_of(Rendering(is_map_alone=True, width_px=600.0)) is WIDE
    assert layout_of(Rendering(is_map_alone=True)) is WIDE
    assert layout_of(Rendering(width_px=360.0)) is WIDE


@given(x=METRES, y=METRES, width=st.floats(1.5, 60), share=st.floats(0.2, 0.75))
def test_the_area_takes_about_half_of_the_width_and_a_metre_beyond_it_is_seen(x: float, y: float, width: float, share: float) -> None:
    area = (x, y, x + width, y + share * width)
    window = narrow_window(area, [], PHONE)
    least_x, least_y, most_x, most_y = window.bounds
    assert least_x <= x - 1 + 1e-6
    assert most_x >= x + width + 1 - 1e-6
    assert least_y <= y - 1 + 1e-6
    assert most_y >= area[3] + 1 - 1e-6
    assert window.width_m / window.height_m == pytest.approx(PHONE.map_width / PHONE.height)
    # A small area leaves less than the least share only where a metre to each side takes the room.
    taken = width / window.width_m
    assert taken <= 0.65 + 1e-9
    assert taken >= 0.45 - 1e-9 or width / (width + 2) < 0.6 or (share * width + 2) / window.height_m > 0.6


def test_what_would_make_the_area_small_is_left_out_and_what_is_near_is_seen() -> None:
    area = (0.0, 0.0, 4.0, 2.0)
    near, far = (6.2, 1.0, 6.2, 1.0), (40.0, 1.0, 40.0, 1.0)
    window = narrow_window(area, [near, far], PHONE)
    assert window.bounds[2] >= 7.2 - 1e-6
    assert window.bounds[2] < 40.0
    assert 4.0 / window.width_m >= 0.45


def test_a_point_alone_has_some_ground_about_it() -> None:
    window = narrow_window((5.0, 5.0, 5.0, 5.0), [], PHONE)
    assert 6.0 <= window.width_m <= 20.0
    assert window.middle.xy == pytest.approx((5.0, 5.0))
