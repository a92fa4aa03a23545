"""No told text states a value by itself: numbers, heights and lengths come from a placeholder, or stand in the list of exceptions."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import marram
from marram.rulebook import packaged_catalogue
from marram.rulebook.placeholders import PLACEHOLDER
from tests.support.told_keys import sentences_of

SOURCE = Path(marram.__file__).parent
HERE = Path(__file__).parent
TELLING = (
    "rulings/acts/act_in_form.py",
    "rulings/acts/acts.py",
    "rulings/case/cautions.py",
    "rulebook/differences/difference_words.py",
    "rulebook/differences/differences.py",
    "showing/drop_examples.py",
    "rulings/drop/dropping.py",
    "rulebook/wording/explain.py",
    "rulings/following.py",
    "showing/forbidden.py",
    "rulings/acts/form_of_play.py",
    "rulings/acts/objects.py",
    "rulings/options.py",
    "rulings/rule_on.py",
    "rulings/acts/search_clock.py",
    "rulings/acts/several.py",
    "rulings/acts/suspension.py",
    "rulings/drop/wrong_place.py",
    "office/trials/make_guide.py",
    "sheets/guide/content.py",
    "sheets/guide/procedure_page.py",
    "sheets/guide/plan_of_places.py",
    "sheets/pages/edition_sheet.py",
)
"""Modules that put what a book holds into words."""
_NUMBER = (
    r"(?:\d+|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|"
    r"twenty|thirty|forty|fifty|sixty)"
)
_UNIT = (
    r"(?:penalty |more |right |further )*"
    r"(?:strokes?|club-lengths?|clubs?|minutes?|min|seconds?|inch(?:es)?|metres?|yards?|drops?|times?|tries|points?|holes?|feet|millimetres?)"
)
VALUE_WORDS = re.compile(
    rf"\b(?:{_NUMBER}[ -]{_UNIT}|knee|shoulder|waist|hip|fourteen|club-lengths?|inch(?:es)?|\d+|"
    r"once only|(?:two|three|four) in all|costs one)\b",
    re.IGNORECASE,
)
_KEY = re.compile(r"[a-z0-9-]*(\.[a-z0-9_-]+)+")
"""A key or the beginning of one, which nobody is told."""
EXCEPTIONS = tomllib.loads((HERE / "literals.toml").read_text(encoding="utf-8"))["literal"]


def told_texts() -> Iterator[tuple[str, str]]:
    """Every text of the rule data that is told, with where it stands: sentences, and what rows and parts mean."""
    for row in packaged_catalogue().rows.values():
        yield row.id, row.means
        yield from ((f"{row.id}.{spec.name}", spec.means) for spec in row.parts.values() if spec.decides)
        yield from ((row.id, PLACEHOLDER.sub("", text)) for text in sentences_of(row))


def told_strings() -> Iterator[tuple[str, str]]:
    """Every piece of text in the telling code, without docstrings, keys and formats."""
    for name in TELLING:
        tree = ast.parse((SOURCE / name).read_text(encoding="utf-8"))
        notes = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        specs = (node.format_spec for node in ast.walk(tree) if isinstance(node, ast.FormattedValue) and node.format_spec)
        formats = {id(part) for spec in specs for part in ast.walk(spec)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in notes | formats:
                text = PLACEHOLDER.sub("", node.value)
                if not _KEY.fullmatch(text) and "<" not in text:
                    yield name, text


def open_values() -> list[tuple[str, str, str]]:
    """What states a value by itself and is no exception: where, the words, the text."""
    found = []
    for where, text in dict.fromkeys([*told_texts(), *told_strings()]):
        for match in VALUE_WORDS.finditer(text):
            if not _is_exception(where, text, match):
                found.append((where, match.group(0), text))
    return found


def _is_exception(where: str, text: str, match: re.Match[str]) -> bool:
    """Whether the words stand within those of an exception for that place."""
    for entry in EXCEPTIONS:
        around = re.search(re.escape(entry["words"]), text, re.IGNORECASE)
        if where.startswith(entry["where"]) and around and around.start() <= match.start() and match.end() <= around.end():
            return True
    return False


def test_no_told_text_states_a_value_by_itself() -> None:
    found = open_values()
    assert not found, "\n".join(f"{where}: {words!r} in {text!r}" for where, words, text in found)


def test_every_exception_is_needed_and_has_a_reason() -> None:
    texts = [*told_texts(), *told_strings()]
    for entry in EXCEPTIONS:
        assert entry["because"].strip()
        assert any(where.startswith(entry["where"]) and entry["words"].lower() in text.lower() for where, text in texts), entry
