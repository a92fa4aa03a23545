"""The page of the demo: its sections, its contents, its style, and the small parts that they share."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from pathlib import Path

from demo import running
from marram.core.terms import ADVICE
from marram.office.drawing_asked import drawing_style

GROUPS = ("Trial", "Rulings", "Scores", "Sheets")
_MARK = (
    "<svg class='sign' viewBox='0 0 25 25' aria-hidden='true'><circle cx='12.5' cy='12.5' r='8.5'/><path d='M0 12.5h25M12.5 0v25'/>"
    "<circle class='dot' cx='12.5' cy='12.5' r='2.2'/></svg>"
)
_STYLE = "demo.css"


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of the page.

    Attributes:
        name: What a link to it ends in.
        group: Which chapter of the contents it belongs to.
        title: Its heading.
        short: Its line in the contents, where that is another.
        note: What the contents say beside it, such as how many there are.
        body: What stands in it.
    """

    name: str
    group: str
    title: str
    note: str
    body: str
    short: str = ""


def write_page(lead: str, sections: Sequence[Section], beside: str) -> Path:
    """Write the page and its style beside it.

    Args:
        lead: What the demo is about, in one paragraph.
        sections: Its parts; the first stands at the top, beside the contents.
        beside: What stands below the contents.
    """
    first, rest = sections[0], sections[1:]
    style = Path(__file__).with_suffix(".css").read_text(encoding="utf-8")
    (running.out / _STYLE).write_text(f"{drawing_style('day')}\n{style}", encoding="utf-8")
    page = running.out / "index.html"
    page.write_text(
        "<!doctype html>\n<html lang='en'><head><meta charset='utf-8'><meta name='viewport' content='width=device-width,initial-scale=1'>"
        f"<title>Marram: a trial, from draft to verdict</title><link rel='stylesheet' href='{_STYLE}'></head><body>\n"
        "<a class='skip' href='#main'>Skip to the page</a>\n"
        f"<header class='head'><span class='mark'>{_MARK}Marram</span><span class='over'>{escape(ADVICE)}</span></header>\n"
        f"<main class='page' id='main'><div class='first'><section class='sheet' id='{first.name}'>{_heading(first, 'h1')}{first.body}"
        f"</section><div class='side'><p>{lead}</p>{_contents(sections)}{beside}</div></div>\n"
        + "\n".join(f"<section class='part' id='{each.name}'>{_heading(each, 'h2')}{each.body}</section>" for each in rest)
        + f"</main>\n<footer class='foot'>{escape(ADVICE)}</footer></body></html>\n",
        encoding="utf-8",
    )
    return page


def _heading(section: Section, level: str) -> str:
    note = f"<span class='over'>{escape(section.note)}</span>" if section.note and level == "h2" else ""
    return f"<{level}><span>{escape(section.title)}</span>{note}</{level}>"


def _contents(sections: Sequence[Section]) -> str:
    """The contents in the groups of the job, with leaders."""
    parts = []
    for group in GROUPS:
        rows = "".join(_line(each) for each in sections if each.group == group)
        parts.append(f"<span class='group'>{group}</span>{rows}")
    return f"<nav class='contents' aria-label='Contents'><h2>Contents</h2>{''.join(parts)}</nav>"


def _line(section: Section) -> str:
    named, note = escape(section.short or section.title), escape(section.note)
    return f"<a href='#{section.name}'><span>{named}</span><i></i><span class='over'>{note}</span></a>"


def say(text: str) -> str:
    """A text for the page. Words between backquotes are typed."""
    return re.sub(r"`([^`]+)`", r"<code>\1</code>", escape(text))


def typed(*commands: Sequence[str]) -> str:
    """Commands as small lines."""
    return f"<pre>{escape(chr(10).join(running.shown(list(words)) for words in commands))}</pre>"


def link(path: str, words: str) -> str:
    """A link to a file beside the page."""
    return f"<a href='{escape(path, quote=True)}'>{escape(words)}</a>"


def picture(path: str, words: str, *, narrow: str = "", opens: str = "") -> str:
    """A drawing that is fetched when it comes into sight, with one for a phone where there is one; a touch opens it by itself.

    Args:
        path: The drawing beside the page.
        words: What it shows.
        narrow: The drawing for a narrow screen; empty where there is none.
        opens: The drawing that a touch opens, where it is another.
    """
    width, height = _size(path)
    phone = ""
    if narrow:
        across, down = _size(narrow)
        phone = f"<source media='(max-width:760px)' srcset='{narrow}' width='{across:.0f}' height='{down:.0f}'>"
    told = escape(words, quote=True)
    shown = f"<picture>{phone}<img src='{path}' alt='{told}' width='{width:.0f}' height='{height:.0f}' loading='lazy'></picture>"
    return f"<a class='drawn' href='{opens or path}'>{shown}</a>"


def _size(path: str) -> tuple[float, float]:
    """Width and height of a drawing beside the page, by which its place is kept before it is there."""
    text = (running.out / path).read_text(encoding="utf-8")
    found = re.search(r'<svg\b[^>]*?\bviewBox="0 0 ([\d.]+) ([\d.]+)"', text)
    assert found is not None, path
    return float(found[1]), float(found[2])


def bullets(lines: Iterable[str], *, is_numbered: bool = False) -> str:
    """A list of lines that are already for the page."""
    kind = "ol" if is_numbered else "ul"
    return f"<{kind} class='lines'>{''.join(f'<li>{line}</li>' for line in lines)}</{kind}>"
