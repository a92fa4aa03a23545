"""The guide as one page for the phone, and as frames for a big screen: HTML with everything in one file."""

from __future__ import annotations

import base64
from typing import Literal

from marram.sheets.guide.content import ADVICE, Guide, GuideDrawing
from marram.sheets.guide.paper import template

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
    pages.filters["picture"] = _picture
    return pages.get_template(f"guide-{form}.html").render(guide=guide, advice=ADVICE)


def _picture(drawing: GuideDrawing) -> str:
    """The drawing as an address that holds the drawing itself."""
    return f"data:image/svg+xml;base64,{base64.b64encode(drawing.screen.encode()).decode()}"
