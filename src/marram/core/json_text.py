"""Answers as JSON text."""

from __future__ import annotations

import json
from collections.abc import Mapping


def dump(answer: Mapping[str, object]) -> str:
    """The text of an answer; equal answers give equal bytes."""
    return json.dumps(answer, sort_keys=True, ensure_ascii=False, indent=1)
