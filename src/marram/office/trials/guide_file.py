"""A guide as what its files hold: two for paper, two for a screen."""

from __future__ import annotations

from typing import Literal

from marram.sheets.guide.content import Guide

GuideForm = Literal["a4", "pocket", "phone", "screen"]


def guide_file(guide: Guide, form: GuideForm) -> str | bytes:
    """What the file of a guide holds.

    Args:
        guide: The guide.
        form: ``a4`` or ``pocket`` for a PDF, ``phone`` or ``screen`` for a page.
    """
    from marram.sheets.guide.paper import set_guide
    from marram.sheets.guide.screen import guide_html

    match form:
        case "a4" | "pocket":
            return set_guide(guide, form)
        case "phone" | "screen":
            return guide_html(guide, form)
