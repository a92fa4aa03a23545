"""The compiled form of `crescent_sums`: the same functions, made into machine code. This module alone imports numba."""

from __future__ import annotations

from collections.abc import Callable
from types import FunctionType
from typing import cast

import numba

from marram.relief.area import crescent_sums

_INNER_FIRST = (
    crescent_sums.chord,
    crescent_sums.inside_stretch,
    crescent_sums.whole_turns,
    crescent_sums.edge_in_disc_m2,
    crescent_sums.bulge,
    crescent_sums.half_lens_m2,
    crescent_sums.lens_up_to_m2,
    crescent_sums.edge_in_lens_m2,
    crescent_sums.misses_disc,
    crescent_sums.frame_of,
    crescent_sums.ring_in_crescent_m2,
    crescent_sums.meets_box,
    crescent_sums.measure_crescents,
)
"""Each function stands after those that it calls."""


def _compiled() -> Callable[..., None]:
    """Compile the functions in a name space of their own, where each finds the compiled form of the others."""
    names = dict(vars(crescent_sums))
    for plain in _INNER_FIRST:
        names[plain.__name__] = _jitted(FunctionType(plain.__code__, names, plain.__name__))
    return cast(Callable[..., None], names["measure_crescents"])


def _jitted(plain: FunctionType) -> object:
    try:
        return numba.njit(cache=True, error_model="numpy")(plain)
    except RuntimeError:
        # Neither the package nor the user's cache folder can be written to: compile anew in each run.
        return numba.njit(error_model="numpy")(plain)


measure_crescents = _compiled()
"""Compiled `crescent_sums.measure_crescents`; the first call in a fresh installation takes some seconds."""
