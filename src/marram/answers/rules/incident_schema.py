"""The JSON Schema of an incident file, for programs that write one."""

from __future__ import annotations

import json


def incident_schema_text() -> str:
    """The JSON Schema of an incident file as text."""
    from marram.interchange.field.incident_file import incident_schema

    return json.dumps(incident_schema(), sort_keys=True, ensure_ascii=False, indent=1)
