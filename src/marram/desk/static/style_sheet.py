"""The style of the pages: the tokens of every light come from the palettes of the drawings, the rest is one file."""

from __future__ import annotations

from functools import cache
from importlib import resources

from marram.desk.pages.chapter_list import chapter_names
from marram.office.drawing_asked import drawing_style, print_style

KINDS = {".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml", ".css": "text/css; charset=utf-8"}


@cache
def style_sheet() -> str:
    """The whole style sheet of the desk."""
    own = resources.files("marram.desk.static").joinpath("desk.css").read_text(encoding="utf-8")
    return "\n".join([drawing_style(), own, *(text for kind, text in _of_chapters().values() if kind == KINDS[".css"]), print_style()])


@cache
def static_files() -> dict[str, tuple[str, str]]:
    """The files that a page may fetch: media and text of each, by name."""
    return _files_of("marram.desk.static") | {name: file for name, file in _of_chapters().items() if file[0] != KINDS[".css"]}


def _of_chapters() -> dict[str, tuple[str, str]]:
    return {name: file for chapter in chapter_names() for name, file in _files_of(f"marram.desk.chapters.{chapter}").items()}


def _files_of(package: str) -> dict[str, tuple[str, str]]:
    return {
        file.name: (KINDS[ending], file.read_text(encoding="utf-8"))
        for file in sorted(resources.files(package).iterdir(), key=lambda file: file.name)
        if (ending := "." + file.name.rpartition(".")[2]) in KINDS
    }
