"""The glossary is whole: what the pages on formats set in bold, name in headings, or list as kinds, types and columns stands in it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from marram.core.terms import Area, Club, FeatureKind, Form, Hand, Mark

DOCS = Path(__file__).resolve().parents[2] / "docs"
GLOSSARY = (DOCS / "glossary.md").read_text(encoding="utf-8")
FORMATS = sorted((DOCS / "formats").glob("*.md"))
LISTING = {"kind", "type", "column"}
"""Headings of a first column whose words are terms; members and options are explained where they stand."""
PLAIN_HEADINGS = {
    "what is mended, and what is refused",
    "tables",
    "how it is proposed",
    "what else is in the way",
    "types of a part",
    "what is asked",
    "answered by the name",
    "members of an edition's table",
}
"""Headings that name no term."""
_ROW = re.compile(r"^\| (.+?) \| (.+) \|$", re.MULTILINE)
_UNITS = re.compile(r"_(m|yd|m2|in)$")


def words_explained(text: str = GLOSSARY) -> dict[str, str]:
    """Every word of the glossary, as it is looked up, with its meaning."""
    return {plain(word): meaning for first, meaning in _ROW.findall(text) for word in re.findall(r"`([^`]+)`", first)}


def plain(word: str) -> str:
    """A word without its unit, joints and capital letters."""
    return _UNITS.sub("", word).replace("_", " ").replace("-", " ").lower()


def is_explained(phrase: str) -> bool:
    """Whether some term of the glossary, in one or in several, is the phrase or stands in it; the plain words of columns are none."""
    told, terms = f" {plain(phrase)} ", words_explained(re.sub(r"## Words of tables.*?(?=\n## )", "", GLOSSARY, flags=re.DOTALL))
    return any(
        f" {word} " in told or f" {word}s " in told or f" {word}es " in told or f" {word.removesuffix('y')}ies " in told for word in terms
    )


def bold_terms(text: str) -> list[str]:
    """What is set in bold as a term; what ends like a sentence is a heading run in."""
    return [word for word in re.findall(r"\*\*([^*]+)\*\*", text) if not word.endswith(".")]


def headings(text: str) -> list[str]:
    run_in = [word.rstrip(".") for word in re.findall(r"^\*\*([^*]+\.)\*\*", text, re.MULTILINE)]
    return [*re.findall(r"^##+ (.+)$", text, re.MULTILINE), *run_in]


def listed_terms(text: str) -> list[str]:
    """Words in code in the first columns that list terms."""
    found: list[str] = []
    for table in re.findall(r"(?:^\|.*\n)+", text, re.MULTILINE):
        first, *rest = (line.split("|")[1].strip() for line in table.splitlines())
        found += [word for cell in rest for word in re.findall(r"`([^`]+)`", cell)] if first in LISTING else []
    return found


def test_the_pages_name_terms_at_all() -> None:
    texts = [page.read_text(encoding="utf-8") for page in FORMATS]
    assert len(FORMATS) > 10
    assert len([term for text in texts for term in bold_terms(text)]) > 7
    assert len([term for text in texts for term in listed_terms(text)]) > 40
    assert len([heading for text in texts for heading in headings(text)]) > 20


@pytest.mark.parametrize("page", FORMATS, ids=lambda page: page.stem)
def test_each_kind_of_file_is_explained(page: Path) -> None:
    assert f"`docs/formats/{page.name}`" in GLOSSARY


@pytest.mark.parametrize("page", FORMATS, ids=lambda page: page.stem)
def test_what_is_set_in_bold_is_explained(page: Path) -> None:
    assert [term for term in bold_terms(page.read_text(encoding="utf-8")) if not is_explained(term)] == []


@pytest.mark.parametrize("page", FORMATS, ids=lambda page: page.stem)
def test_what_headings_name_is_explained(page: Path) -> None:
    named = [heading for heading in headings(page.read_text(encoding="utf-8")) if heading.lower() not in PLAIN_HEADINGS]
    assert [heading for heading in named if not is_explained(heading)] == []


@pytest.mark.parametrize("page", FORMATS, ids=lambda page: page.stem)
def test_what_first_columns_list_is_explained(page: Path) -> None:
    known = words_explained()
    terms = [term for term in listed_terms(page.read_text(encoding="utf-8")) if re.fullmatch(r"[a-z0-9 _-]+", term)]
    assert [term for term in terms if plain(term) not in known] == []


def test_what_is_no_term_is_not_taken_for_one() -> None:
    assert not is_explained("Nonsense on the left, from another trade, to be checked")
    assert is_explained("Crossing points")
    assert listed_terms("| kind | meaning |\n| --- | --- |\n| `bog` | wet |\n") == ["bog"]
    assert listed_terms("| member | meaning |\n| --- | --- |\n| `bog` | wet |\n") == []


@pytest.mark.parametrize("words", [Area, Mark, Form, FeatureKind, Hand, Club], ids=lambda words: words.__name__)
def test_every_word_of_the_closed_lists_is_explained(words: type[Area]) -> None:
    assert [word.value for word in words if f"`{word.value}`" not in GLOSSARY] == []


def test_no_word_is_explained_twice_and_each_has_a_meaning() -> None:
    words = [word for first, _ in _ROW.findall(GLOSSARY) for word in re.findall(r"`([^`]+)`", first)]
    assert sorted({word for word in words if words.count(word) > 1}) == ["left", "right"]
    assert all(len(meaning) > 4 for meaning in words_explained().values())
