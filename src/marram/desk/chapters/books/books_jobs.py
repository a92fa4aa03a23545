"""The jobs of the rule book."""

from __future__ import annotations

from marram.desk.chapters.books.book_asked import reading
from marram.desk.chapters.books.compare_page import compare_page
from marram.desk.chapters.books.contents_page import contents_page, heading_page
from marram.desk.chapters.books.find_page import find_page
from marram.desk.chapters.books.rule_page import rule_page
from marram.desk.chapters.books.situation_page import find_place, situation_page
from marram.desk.pages.chapter_list import ChapterJobs

JOBS = ChapterJobs(
    looks={
        "books": reading(contents_page),
        "books-situation": reading(situation_page),
        "books-heading": reading(heading_page),
        "books-rule": reading(rule_page),
        "books-find": reading(find_page),
        "books-compare": reading(compare_page),
        "books-place": reading(find_place),
    }
)
