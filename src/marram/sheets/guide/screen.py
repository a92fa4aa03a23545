"""The guide as one page for the phone, and as frames for a big screen: HTML with everything in one file."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from marram.sheets.guide.content import ADVICE, Guide, GuideDrawing, GuidePage
from marram.sheets.guide.frames import Frame, draw_in, needed
from marram.sheets.guide.paper import template
from marram.sheets.scene.palette import PRINT
from marram.sheets.scene.sealed import seal_page
from marram.sheets.scene.style import page_style, tokens_of

Screen = Literal["phone", "screen"]
PHONE = Frame(width=286.0, height=230.0, is_paper=False)
"""A frame over the width of a phone of 390 px, 358 between the edges: one drawing unit is then 1.25 px, and a label 16 px high."""
HALF = Frame(width=376.0, height=204.0, is_paper=False)
"""A frame over half a big screen: a label is 20 px high on 1280 px and 30 px on 1920."""
_SAID, _LOWER, _LEAST_HEIGHT = 3, 19.0, 104.0
"""So many changes and things that differ leave that height; each one more takes so much of it, down to the least."""
STEP = Frame(width=470.0, height=340.0, is_paper=False)
"""A frame over six tenths of a big screen."""
_PLAN_WIDTH = {"phone": PHONE.width, "screen": STEP.width}
_PLAN_MOST = {"phone": 400.0, "screen": 400.0}


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
    step = PHONE if form == "phone" else STEP
    told = pages.get_template(f"guide-{form}.html").render(
        guide=guide,
        advice=ADVICE,
        style=f"{page_style()}\n@media print{{{tokens_of(PRINT)}}}",
        side_drawing=lambda drawing, page: draw_in(drawing, _half(page) if form == "screen" else PHONE).svg,
        step_drawing=lambda drawing: draw_in(drawing, step).svg,
        plan_drawing=lambda drawing: draw_in(drawing, _plan_frame(drawing, form)).svg,
    )
    return seal_page(told)


def _half(page: GuidePage) -> Frame:
    """The frame of before and now: lower where the page says much besides."""
    differing = sum(before != now for _, before, now in page.compared) if page.before is not None else len(page.compared)
    more = max(0, len(page.lead) + differing - _SAID)
    return replace(HALF, height=max(HALF.height - _LOWER * more, _LEAST_HEIGHT))


def _plan_frame(plan: GuideDrawing, form: Screen) -> Frame:
    """A frame as wide as the form has it and as high as the course needs."""
    (wide_m, high_m), _ = needed(plan.places, plan.room)
    width = _PLAN_WIDTH[form]
    return Frame(width=width, height=min(width * high_m / wide_m, _PLAN_MOST[form]), is_paper=False)
