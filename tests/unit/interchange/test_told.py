"""Faults of structure, as the reading library says them and as an official reads them."""

from __future__ import annotations

from typing import Annotated

import msgspec
import pytest
from msgspec import Meta, Struct

from marram.interchange.tables.file_faults import structure_fault


class Ball(Struct, forbid_unknown_fields=True):
    x_m: Annotated[float, Meta(ge=0)]


class Table(Struct, forbid_unknown_fields=True):
    hole: int
    ball: Ball


@pytest.mark.parametrize(
    ("raw", "message", "place"),
    [
        ({"hole": "7", "ball": {"x_m": 1.0}}, "Text in quotes stands here; expected a whole number.", "hole"),
        ({"hole": 7, "ball": {"x_m": 1.0, "colour": 3}}, "There is no member 'colour' here.", "ball"),
        ({"hole": 7}, "The member 'ball' is missing.", ""),
        ({"hole": 7, "ball": 3}, "A whole number stands here; expected a table.", "ball"),
        ({"hole": 7, "ball": {"x_m": -1.0}}, "Expected a number of at least 0.0.", "ball.x_m"),
    ],
)
def test_structure_faults_are_told_in_words(raw: object, message: str, place: str) -> None:
    with pytest.raises(msgspec.ValidationError) as caught:
        msgspec.convert(raw, Table)
    assert structure_fault(str(caught.value)) == (message, place)
