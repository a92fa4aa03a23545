"""A whole ruling as plain values, so that two can be compared to the last digit of every number and corner of every outline."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum

from shapely.geometry.base import BaseGeometry

ON_REQUEST = {"range_m", "lines"}


def plain(value: object) -> object:
    """Everything that a value holds: numbers by all their digits, geometries by every corner in its order, sets sorted."""
    if isinstance(value, BaseGeometry):
        return value.wkb_hex
    if isinstance(value, Enum):
        return plain(value.value)  # a word is the same word, typed or not
    if is_dataclass(value):
        # What is kept for the next question is no part of an answer; what is told on request is one.
        names = {field.name for field in fields(value) if field.compare} | (ON_REQUEST & set(dir(type(value))))
        return [type(value).__name__, *(plain(getattr(value, name)) for name in sorted(names))]
    if isinstance(value, Mapping):
        return sorted((str(plain(key)), plain(entry)) for key, entry in value.items())
    if isinstance(value, frozenset | set):
        return sorted(map(repr, map(plain, value)))
    if isinstance(value, tuple | list):
        return [plain(entry) for entry in value]
    return repr(value)
