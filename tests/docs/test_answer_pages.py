"""The pages and schemas of answers are those of the shapes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from builders.answer_pages.page import answer_files, meanings, shapes_by_name
from marram.answers.published import ANSWERS
from marram.answers.shape import Answer, schema_name

FOLDER = Path(__file__).resolve().parents[2] / "docs" / "formats" / "answers"


def test_every_file_is_as_the_shapes_say() -> None:
    made = answer_files()
    assert sorted(path.name for path in FOLDER.iterdir()) == sorted(made)
    stale = [name for name, text in made.items() if (FOLDER / name).read_text(encoding="utf-8") != text]
    assert stale == [], "run: python -m builders.answer_pages"


def test_every_answer_is_published_once_under_a_name_of_its_own() -> None:
    named = [schema_name(kind) for kind in ANSWERS]
    assert len(set(named)) == len(named)
    written = {kind for kind in shapes_by_name().values() if issubclass(kind, Answer) and kind is not Answer}
    assert written == set(ANSWERS)


@pytest.mark.parametrize("kind", ANSWERS, ids=lambda kind: str(kind.__name__))
def test_a_schema_names_its_version_and_lets_nothing_else_in(kind: type[Answer]) -> None:
    name, _, version = schema_name(kind).partition("/")
    assert name.startswith("marram.")
    assert int(version) >= 1
    schema = json.loads(answer_files()[f"{name.removeprefix('marram.')}.schema.json"])
    top = schema["$defs"][kind.__name__]
    assert top["additionalProperties"] is False
    assert "schema" in meanings(kind)
