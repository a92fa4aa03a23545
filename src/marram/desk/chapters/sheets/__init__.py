"""Sheets: every paper and page that is printed, listed by what the folder can give, looked at before it is saved."""

from __future__ import annotations

from marram.desk.pages.chapter_list import Chapter

CHAPTER = Chapter(
    name="sheets",
    number=8,
    group="sheets",
    looks={
        "/sheets": "sheets",
        "/sheets/show": "sheets-show",
        "/sheets/how-far": "sheets-how-far",
        "/sheets/picture": "sheets-picture",
        "/sheets/file": "sheets-file",
    },
    does={"/sheets/make": "sheets-make"},
    takes_long=frozenset({"sheets-make"}),
)
