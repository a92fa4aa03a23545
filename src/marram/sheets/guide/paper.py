"""The guide set for paper: A4 sheets, and a pocket leaflet folded from one."""

from __future__ import annotations

from importlib import resources
from typing import Literal

import msgspec

from marram.sheets.guide.content import ADVICE, Guide, GuideDrawing, GuidePage
from marram.sheets.scene.typesetting import set_pdf

Form = Literal["a4", "pocket"]
_COMMON = "common.typ"


def drawings_of(page: GuidePage) -> list[GuideDrawing]:
    """Every drawing of a page, in the order in which it is seen."""
    sides = [side.drawing for side in (page.before, page.now) if side is not None and side.drawing is not None]
    return [*sides, *(step.drawing for step in page.steps)]


def set_guide(guide: Guide, form: Form) -> bytes:
    """Set a guide as a PDF.

    Args:
        guide: The guide.
        form: ``a4``, two pages for a procedure; or ``pocket``, one A4 sheet for a procedure, to be folded twice.
    """
    drawings = [drawing for page in guide.pages for drawing in drawings_of(page)]
    drawings += [guide.plan] if guide.plan is not None else []
    files = {f"{drawing.name}.svg": drawing.paper.encode() for drawing in drawings}
    content = {**msgspec.to_builtins(guide), "advice": ADVICE}
    files |= {"guide.json": msgspec.json.encode(content), _COMMON: template(_COMMON).encode()}
    return set_pdf(template(f"guide-{form}.typ"), files)


def template(name: str) -> str:
    """A template that is packaged with the sheets."""
    return resources.files("marram.sheets").joinpath("templates", name).read_text(encoding="utf-8")
