"""The drawing of an effect: its interval on a scale in natural units, with no effect, what matters, and the margins of a guard."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from math import floor, log10

from marram.sheets.scene.palette import PRINT
from marram.sheets.scene.style import plain_classes

_WIDTH, _HEIGHT = 520.0, 78.0
_LEFT, _RIGHT, _AXIS = 16.0, 504.0, 50.0
_ROOM, _LABEL = 1.12, 70.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PlottedEffect:
    """An effect to be drawn.

    Attributes:
        title: What it is, in words.
        unit: Its unit.
        estimate: The effect.
        low: Lower end of its interval.
        high: Upper end.
        marks: Places on the scale with what stands at them, such as what matters or a margin.
    """

    title: str
    unit: str
    estimate: float
    low: float
    high: float
    marks: tuple[tuple[float, str], ...]

    @property
    def words(self) -> str:
        """The drawing in words, for those who cannot see it."""
        marks = "; ".join(f"{text} at {place:g}" for place, text in self.marks)
        return f"{self.title}: {self.estimate:+.2f} {self.unit}, interval {self.low:.2f} to {self.high:.2f}; none at 0; {marks}."


def draw_interval(effect: PlottedEffect, *, is_on_page: bool = False) -> str:
    """Draw an effect as SVG: a bar for the interval, a stroke for the estimate, dashed lines for what matters.

    Args:
        effect: The effect.
        is_on_page: Whether it stands on a page that carries the style, else in a file for paper.
    """
    reach = _ROOM * max(abs(value) for value in (effect.low, effect.high, *(place for place, _ in effect.marks)))
    step = _step(reach)

    def x(value: float) -> float:
        return _LEFT + (value + reach) / (2 * reach) * (_RIGHT - _LEFT)

    body = [f'<line x1="{_LEFT:.1f}" y1="{_AXIS}" x2="{_RIGHT:.1f}" y2="{_AXIS}" class="axis"/>']
    for count in range(-int(reach / step), int(reach / step) + 1):
        value = count * step
        body.append(f'<line x1="{x(value):.1f}" y1="{_AXIS}" x2="{x(value):.1f}" y2="{_AXIS + 4}" class="axis"/>')
        body.append(_text(x(value), _AXIS + 16, f"{value:g}", "middle"))
    body.append(f'<line x1="{x(0):.1f}" y1="14" x2="{x(0):.1f}" y2="{_AXIS}" class="nought"/>')
    for place, text in effect.marks:
        body.append(f'<line x1="{x(place):.1f}" y1="14" x2="{x(place):.1f}" y2="{_AXIS}" class="at"/>')
        is_right = x(place) < _RIGHT - _LABEL if place > 0 else x(place) < _LEFT + _LABEL  # away from the middle, where there is room
        body.append(_text(x(place) + (3 if is_right else -3), 11, text, "start" if is_right else "end"))
    body.append(f'<rect x="{x(effect.low):.1f}" y="31" width="{x(effect.high) - x(effect.low):.1f}" height="8" class="interval"/>')
    body.append(f'<rect x="{x(effect.estimate) - 1.5:.1f}" y="27" width="3" height="16" class="estimated"/>')
    body.append(_text(_RIGHT, _HEIGHT - 1, effect.unit, "end"))
    told = f'role="img" aria-label="{escape(effect.words, quote=True)}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}" {told}>'
    style = "" if is_on_page else f"<style>\n{plain_classes(PRINT)}</style>"
    return "\n".join([head, f"<title>{escape(effect.words)}</title>", style, *body, "</svg>"])


def _step(reach: float) -> float:
    """A step of the scale that leaves three to seven marks on a side."""
    power = 10.0 ** floor(log10(reach / 3))
    return next(power * factor for factor in (5, 2, 1) if reach / (power * factor) >= 2.5) if reach / power >= 2.5 else power


def _text(x: float, y: float, text: str, anchor: str) -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" class="figure" text-anchor="{anchor}">{escape(text)}</text>'
