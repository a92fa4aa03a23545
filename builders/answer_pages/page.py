"""The pages of docs/formats/answers, made from the shapes themselves: what a member is stands in the docstring of its shape."""

from __future__ import annotations

import inspect
import re
from typing import Any

from marram.answers import shape
from marram.answers.published import ANSWERS, schema_file, schema_text

INDEX = "README.md"
_MADE = "<!-- Made by `python -m builders.answer_pages` from the shapes in src/marram/answers; change those. -->"


def answer_files() -> dict[str, str]:
    """Name and text of every file of the folder."""
    files = {INDEX: _index()}
    for kind in ANSWERS:
        files[f"{schema_file(kind)}.md"] = page(kind)
        files[f"{schema_file(kind)}.schema.json"] = schema_text(kind)
    return files


def _index() -> str:
    rows = [f"| [`{shape.schema_name(kind)}`]({schema_file(kind)}.md) | {headline(kind)} |" for kind in ANSWERS]
    return "\n".join(
        [
            _MADE,
            "",
            "# Answers as JSON",
            "",
            "With `--json` a command prints one object: keys sorted, units in the names of members, places as longitude and latitude with",
            "metres beside. Each object says in `schema` which of these shapes it has, and in which version. A version goes up when a",
            "member goes or changes what it means; a member more is no new version. A member that is told as *may be left out* is there",
            "only where there is something to tell.",
            "",
            "| schema | what it answers |",
            "|---|---|",
            *sorted(rows),
            "",
        ]
    )


def headline(kind: type) -> str:
    """The first sentence of a shape's docstring."""
    return " ".join((inspect.getdoc(kind) or "").split("\n\n")[0].split())


def meanings(kind: type) -> dict[str, str]:
    """What each member of a shape is, by its docstring."""
    told = (inspect.getdoc(kind) or "").partition("Attributes:")[2]
    entries = re.split(r"\n    (?=\w+: )", "\n" + inspect.cleandoc(told).replace("\n", "\n    ")) if told else []
    pairs = (entry.strip().partition(": ") for entry in entries if entry.strip())
    return {name: " ".join(text.split()) for name, _, text in pairs}


def shapes_by_name() -> dict[str, type]:
    """Every shape there is."""

    def below(kind: type) -> list[type]:
        children: list[type] = kind.__subclasses__()
        return [kind, *(deeper for child in children for deeper in below(child))]

    return {kind.__name__: kind for kind in below(shape.Shape)}


def page(kind: type[shape.Answer]) -> str:
    """The page of a kind of answer."""
    schema, known = shape.json_schema(kind), shapes_by_name()
    order = [kind.__name__, *sorted(name for name in schema["$defs"] if name != kind.__name__)]
    lines = [_MADE, "", f"# {shape.schema_name(kind)}", "", headline(kind)]
    for name in order:
        members = schema["$defs"][name].get("properties", {})
        told, needed = meanings(known[name]), schema["$defs"][name].get("required", [])
        if name != kind.__name__:
            lines += ["", f"## {name}", "", headline(known[name])]
        lines += ["", "| member | type | meaning |", "|---|---|---|"]
        lines += [f"| `{member}` | {_type(of)} | {_meaning(told, name, member, needed)} |" for member, of in sorted(members.items())]
    return "\n".join([*lines, ""])


def _meaning(told: dict[str, str], name: str, member: str, needed: list[str]) -> str:
    told_as = member.replace(" ", "_")
    if told_as not in told:
        raise ValueError(f"{name}.{member} is told nowhere: write it into the docstring of {name}, under Attributes.")
    left_out = "" if member in needed or member == "schema" else " May be left out."
    return told[told_as].replace("|", "\\|") + left_out


def _type(of: dict[str, Any]) -> str:
    """A type in words."""
    if "$ref" in of:
        name = of["$ref"].rpartition("/")[2]
        return f"[{name}](#{name.lower()})"
    if "anyOf" in of:
        return " or ".join(dict.fromkeys(_type(one) for one in of["anyOf"]))
    if "enum" in of:
        return " or ".join(f"`{word}`" for word in of["enum"])
    if of.get("type") == "array":
        return f"list of {_type(of['items'])}" if of.get("items") else "list"
    if of.get("type") == "object":
        more = of.get("additionalProperties")
        return f"object of {_type(more)}" if isinstance(more, dict) and more else "object"
    return str({"integer": "whole number", "string": "text", "boolean": "true or false"}.get(str(of.get("type")), of.get("type", "any")))
