"""What books say under a key, for the terminal."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marram.office.books.show_key import KeyShown, QuestionShown

_WIDTH = 100


def show_text(shown: KeyShown) -> str:
    """What each book says under a key."""
    lines = [f"{shown.key}: {shown.means}", fill(shown.row_means, _WIDTH)]
    if shown.words:
        lines.append(fill(f"Words: {', '.join(shown.words)}", _WIDTH, subsequent_indent="  "))
    for book, side in shown.under:
        says = f"none: {side.why_none}" if side.value is None else side.words
        lines += ["", f"{book.name}  [{book.stamp}]", f"  {says}"]
        rules = (f"{citation.reference} ({citation.provenance})" for citation in side.citations)
        lines += [fill(line, _WIDTH, initial_indent="  ", subsequent_indent="    ") for line in rules]
    return "\n".join(lines)


def question_text(shown: QuestionShown) -> str:
    """How each book asks for a fact."""
    asked = (fill(f"{book.name}  {question}", width=_WIDTH, subsequent_indent="   ") for book, question in shown.under)
    return "\n".join([f"{shown.key}: the question that settles the fact {shown.fact} (marram book facts)", *asked])
