"""What differs between two books as a printed table, and as a page for a screen."""

from __future__ import annotations

import msgspec

from marram.core.terms import ADVICE
from marram.rulebook.differences.differences import ToldComparison
from marram.sheets.guide.paper import template
from marram.sheets.scene.palette import DAY
from marram.sheets.scene.sealed import seal_page
from marram.sheets.scene.style import tokens_of
from marram.sheets.scene.typesetting import set_pdf


def set_differences(told: ToldComparison) -> bytes:
    """Set the differences as a PDF, A4 across: one book beside the other."""
    content = {**msgspec.to_builtins(told), "count_words": told.count_words, "advice": ADVICE}
    files = {"sheet.json": msgspec.json.encode(content), "common.typ": template("common.typ").encode()}
    return set_pdf(template("differences-a4.typ"), files)


def differences_html(told: ToldComparison) -> str:
    """The differences as an HTML page that works without a network."""
    from jinja2 import Environment, StrictUndefined

    pages = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    page = pages.from_string(template("differences.html")).render(told=told, advice=ADVICE, style=tokens_of(DAY))
    return seal_page(page)
