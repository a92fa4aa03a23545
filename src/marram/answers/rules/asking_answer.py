"""What was found for a question, as outsiders read it."""

from __future__ import annotations

from collections.abc import Sequence

from marram.asking.finding import COVERED, Answer, Found

Told = tuple[Found, str, str, Sequence[tuple[str, str]]]
"""An entry found, the command that goes on and what that needs, and the books without it with the reason."""


def ask_object(
    answer: Answer, books: Sequence[str], found: Sequence[Told], nearest: Sequence[Told], cautions: Sequence[str]
) -> dict[str, object]:
    """What was found; where nothing fits, what is covered and what comes nearest."""
    told: dict[str, object] = {
        "words": answer.words,
        "books": list(books),
        "covered": answer.is_covered,
        "cautions": list(cautions),
        "answers": [_lead_object(*lead) for lead in found],
    }
    return (
        told
        if answer.is_covered
        else told | {"subject": answer.subject, "says": COVERED, "nearest": [_lead_object(*lead) for lead in nearest]}
    )


def _lead_object(found: Found, command: str, needs: str, missing: Sequence[tuple[str, str]]) -> dict[str, object]:
    entry = found.entry
    return {
        "kind": entry.kind.value,
        "id": entry.id,
        "title": entry.title,
        "command": command,
        "needs": needs,
        "situations": list(found.situations),
        "score": round(found.score, 3),
        "not_in": [{"book": book, "because": why} for book, why in missing],
    }
