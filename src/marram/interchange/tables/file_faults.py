"""Faults of a file's structure in an official's words."""

from __future__ import annotations

import re

_KINDS = {
    "float": "a number",
    "int": "a whole number",
    "str": "text in quotes",
    "array": "a list",
    "object": "a table",
    "bool": "true or false",
    "null": "nothing",
    "date": "a date",
    "datetime": "a date and time",
}
_PLACE = re.compile(r"^(?P<said>.*?)(?: - at `\$\.?(?P<place>.*)`)?$", re.DOTALL)
_RULES = (
    (re.compile(r"Object contains unknown field `(.*)`"), "there is no member '{0}' here"),
    (re.compile(r"Object missing required field `(.*)`"), "the member '{0}' is missing"),
    (re.compile(r"Invalid enum value (.*)"), "{0} is not one of the words that may stand here"),
    (re.compile(r"Expected `(.*)`, got `(.*)`"), "{1} stands here; expected {0}"),
    (re.compile(r"Expected `(.*)` of length (.*)"), "expected {0} of length {1}"),
    (re.compile(r"Expected `(.*)` (>=|<=|>|<) (.*)"), "expected {0} {1} {2}"),
)
_SIGNS = {">=": "of at least", "<=": "of at most", ">": "above", "<": "below"}


def structure_fault(said: str) -> tuple[str, str]:
    """What is wrong with a file's structure, and where.

    Args:
        said: What the reading library says.

    Returns:
        A sentence, and the place as dotted names; the place is empty at the top of the file.
    """
    found = _PLACE.match(said)
    text, place = (found["said"], found["place"] or "") if found else (said, "")
    for pattern, sentence in _RULES:
        hit = pattern.fullmatch(text)
        if hit:
            words = [_in_words(part) for part in hit.groups()]
            text = sentence.format(*words)
            break
    return f"{text[0].upper()}{text[1:]}.", place.replace("[...]", "")


def _in_words(part: str) -> str:
    kinds = [kind.strip() for kind in part.split("|")]
    if all(kind in _KINDS for kind in kinds):
        return " or ".join(_KINDS[kind] for kind in kinds if kind != "null") or _KINDS["null"]
    return _SIGNS.get(part, part)
