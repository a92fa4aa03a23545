"""The rule book: an edition by situation and by heading in plain words, found by words, and two books compared."""

from __future__ import annotations

from marram.desk.pages.chapter_list import Chapter

CHAPTER = Chapter(
    name="books",
    number=5,
    group="trial",
    looks={
        "/books": "books",
        "/books/situation": "books-situation",
        "/books/heading": "books-heading",
        "/books/rule": "books-rule",
        "/books/find": "books-find",
        "/books/compare": "books-compare",
        "/books/place": "books-place",
    },
    takes_long=frozenset({"books-place"}),
)
