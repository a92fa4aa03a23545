"""The addresses that programs ask, each with what it takes and gives, as OpenAPI describes them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import msgspec
from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi

_REFERENCE, _ERROR = "#/components/schemas/{name}", "ErrorAnswer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Described:
    """An address that programs ask.

    Attributes:
        path: The address.
        method: ``GET`` or ``POST``.
        job: The job that answers.
        does: What it does.
        gives: Name of the answer's shape.
        takes: Name of the shape of what is sent; empty where nothing is.
    """

    path: str
    method: str
    job: str
    does: str
    gives: str
    takes: str = ""

    @property
    def extra(self) -> dict[str, Any]:
        """What OpenAPI says of it besides."""
        answers = {
            "200": {"description": self.does, "content": _content(self.gives)},
            "422": {"description": "What is wrong, where, and what would be right.", "content": _content(_ERROR)},
        }
        taken = {} if not self.takes else {"requestBody": {"required": True, "content": _content(self.takes)}}
        return {"responses": answers, **taken}


ADDRESSES = (
    Described(
        path="/api/rule", method="POST", job="api-rule", does="Rule on a ball under some books.", gives="RulingAnswers", takes="CaseBody"
    ),
    Described(path="/api/situations", method="GET", job="api-situations", does="The situations that a case may state.", gives="Situations"),
)


def describe(app: FastAPI) -> dict[str, Any]:
    """The description of all addresses that programs ask."""
    # Loaded when somebody asks: the shapes bring all that rules with them, and the server itself never rules.
    from marram.answers.error_answer import ErrorAnswer
    from marram.answers.rules.ruling_answer import RulingAnswers, Situations
    from marram.desk.pages.page_jobs import CaseBody

    made = get_openapi(title=app.title, version=app.version, routes=app.routes)
    _, shapes = msgspec.json.schema_components([RulingAnswers, Situations, CaseBody, ErrorAnswer], ref_template=_REFERENCE)
    made.setdefault("components", {})["schemas"] = shapes
    return made


def _content(name: str) -> dict[str, Any]:
    return {"application/json": {"schema": {"$ref": _REFERENCE.format(name=name)}}}
