"""What every JSON answer is made of: typed shapes, sorted keys, a schema with a name and a version."""

from __future__ import annotations

from typing import Any

import msgspec
from msgspec import UNSET, UnsetType

__all__ = ["UNSET", "Answer", "Shape", "UnsetType", "json_schema", "json_text", "schema_name"]


class Shape(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A part of an answer. A member that is `UNSET` is left out; one that is None is told as null."""


class Answer(Shape, frozen=True, kw_only=True):
    """A whole answer.

    Each kind of answer has a member ``schema`` of its own, whose one value is the name of the schema and its version, as in
    ``marram.drop/1``. The version goes up when a member goes or changes what it means; a member more is no new version.
    """


def schema_name(kind: type[Answer]) -> str:
    """Name and version of the schema of a kind of answer, as in ``marram.drop/1``."""
    name = next(field.default for field in msgspec.structs.fields(kind) if field.name == "schema")
    assert isinstance(name, str)
    return name


def json_text(answer: Answer) -> str:
    """The text of an answer: keys sorted, one space for each step; equal answers give equal bytes."""
    return msgspec.json.format(msgspec.json.encode(answer, order="sorted"), indent=1).decode()


def json_schema(kind: type[Answer]) -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a kind of answer."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "$id": schema_name(kind)} | msgspec.json.schema(kind)
