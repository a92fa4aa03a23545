"""Every word of the pages that no rule book says stands in one table: in another language none is left over."""

from __future__ import annotations

import re
from html import unescape
from importlib import resources
from pathlib import Path

import pytest

from marram.desk.pages import page as page_module
from marram.desk.pages.interface_words import InterfaceWords, interface_words
from marram.desk.pages.page import Desk, pages_of
from marram.desk.rulings.desk_jobs import do_job

DESK = Path(str(resources.files("marram.desk")))
TEMPLATES = sorted(DESK.glob("pages/templates/*.html")) + sorted(DESK.glob("chapters/*/templates/*/*.html"))
OURS = {"Marram", "m", "m²", "in", "·", "1", "+", ",", ".", ":", ";", "(", ")", "marram", "desk", "--folder", "examples"}


def test_no_template_holds_a_word_of_its_own() -> None:
    """Between the tags of a template stand marks of its language and nothing that a reader reads."""
    for file in TEMPLATES:
        text = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", " ", file.read_text(encoding="utf-8"), flags=re.DOTALL)
        text = re.sub(r"<p class=\"code\">.*?</p>", " ", text, flags=re.DOTALL)  # a command is typed alike in every language
        words = re.sub(r"<[^>]*>", " ", text).split()
        assert [word for word in words if re.search(r"[A-Za-z]{2}", word) and word not in OURS] == [], file.name


def test_every_word_that_a_template_names_stands_in_the_table() -> None:
    table = interface_words().table
    for file in TEMPLATES:
        named = re.findall(r"\bt\(\"([a-z_]+\.[a-z_-]+)\"[,)]", file.read_text(encoding="utf-8"))
        named += re.findall(r"\bt\('([a-z_]+\.[a-z_-]+)'[,)]", file.read_text(encoding="utf-8"))
        assert [name for name in named if name not in table] == [], file.name


def test_every_word_of_the_table_is_used() -> None:
    text = "".join(file.read_text(encoding="utf-8") for file in TEMPLATES)
    parts = set(re.findall(r"\bt\([\"']([a-z_]+)\.[\"'] ~", text))
    unused = [name for name in interface_words().table if name not in text and name.partition(".")[0] not in parts]
    assert unused == []


@pytest.mark.parametrize(
    ("job", "query"),
    [
        ("home", ""),
        ("ruling", "hole=7"),
        ("ruling", "x=-383.38&y=117.5"),
        ("ruling", "hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45&left=open"),
        ("drop", "events=right-way"),
        ("search", "events=start@0:00"),
        ("ask", "words=in the pond"),
    ],
)
def test_pages_are_whole_in_another_language(examples_desk: Desk, monkeypatch: pytest.MonkeyPatch, job: str, query: str) -> None:
    strange = InterfaceWords(table={name: re.sub(r"[A-Za-z]+(?![^{]*\})", "Ⱬ", words) for name, words in interface_words().table.items()})
    monkeypatch.setattr(page_module, "_pages", lambda: pages_of(strange))
    answer = do_job(examples_desk, job, query)
    assert answer.status == 200
    told = unescape(answer.text)
    assert "Ⱬ" in told
    for words in interface_words().table.values():
        if len(words) > 20 and "{" not in words:
            assert words not in told
