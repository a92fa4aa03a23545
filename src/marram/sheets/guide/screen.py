"""The guide as one page for the phone, and as frames for a big screen: HTML with everything in one file."""

from __future__ import annotations

from typing import Literal

from marram.sheets.guide.content import ADVICE, Guide
from marram.sheets.guide.paper import template
from marram.sheets.scene.sealed import seal_page
from marram.sheets.scene.style import page_style

Screen = Literal["phone", "screen"]


def guide_html(guide: Guide, form: Screen) -> str:
    """A guide as an HTML page that works without a network.

    Args:
        guide: The guide.
        form: ``phone``, read by scrolling; or ``screen``, one step filling the screen at a time.
    """
    from jinja2 import DictLoader, Environment, StrictUndefined

    names = ("guide-phone.html", "guide-screen.html", "guide-base.html")
    loader = DictLoader({name: template(name) for name in names})
    pages = Environment(loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    return seal_page(pages.get_template(f"guide-{form}.html").render(guide=guide, advice=ADVICE, style=page_style()))
