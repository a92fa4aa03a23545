"""Sheets of an exercise: one for each person, with the incidents or tasks in the order that was drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import msgspec

from marram.core.terms import ADVICE
from marram.sheets.guide.paper import template
from marram.sheets.scene.typesetting import set_pdf


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetItem:
    """What is to be ruled or done, and the answers to choose from; none where something is measured."""

    text: str
    answers: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ExerciseSheet:
    """The sheet of one person.

    Attributes:
        person: Name of the person within the exercise.
        entries: In order, which text holds and what is to be ruled or done.
    """

    person: str
    entries: tuple[tuple[str, SheetItem], ...]


def set_exercise(title: str, sheets: Sequence[ExerciseSheet], *, is_station: bool) -> bytes:
    """Set the sheets as a PDF, A4, each person on sheets of his own.

    Args:
        title: Title of the trial.
        sheets: The sheets.
        is_station: Whether tasks are done and measured; else incidents are ruled.
    """
    content = {
        "title": title,
        "is_station": is_station,
        "advice": ADVICE,
        "sheets": [
            {"person": sheet.person, "entries": [{"text": text, **msgspec.to_builtins(item)} for text, item in _told(sheet)]}
            for sheet in sheets
        ],
    }
    files = {"sheet.json": msgspec.json.encode(content), "common.typ": template("common.typ").encode()}
    return set_pdf(template("exercise-a4.typ"), files)


def _told(sheet: ExerciseSheet) -> list[tuple[str, dict[str, object]]]:
    return [(text, {"what": item.text, "answers": list(item.answers)}) for text, item in sheet.entries]
