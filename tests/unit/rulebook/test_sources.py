"""The catalogue of sources: every place that the rule data names is in it, and each says of which edition it speaks."""

from __future__ import annotations

import tomllib

import pytest

from marram.core.citations import Citation, is_a_source, split_seen
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.sources import KINDS, Sources, parse_sources

BOOK = '[[source]]\ntitle = "A book"\nyear = 2001\neditions = ["new"]\nkind = "official text"\n'
BLOG = '[[source]]\ntitle = "A book blog"\neditions = ["old", "new"]\nkind = "secondary"\n'


def sources(text: str = BOOK + BLOG) -> Sources:
    found, faults = parse_sources(tomllib.loads(text), ["old", "new"])
    assert not faults
    return found


def cited(seen: str, edition: str = "new") -> Citation:
    return sources().seen_in(Citation(document="Rules", edition=edition, rule="1", seen=seen), seen)


def test_the_longest_title_is_meant() -> None:
    blog, book = sources().find("A book blog, part 2"), sources().find("A book, page 7")
    assert blog is not None and (blog.source.title, blog.place) == ("A book blog", "part 2")
    assert book is not None and (book.source.title, book.place) == ("A book", "page 7")
    assert sources().find("Another book") is None


def test_the_best_kind_comes_first_and_each_place_once() -> None:
    found = sources().sightings([cited("A book blog; A book, page 7"), cited("A book, page 7; memory")])
    assert [(sighting.source.title, sighting.place) for sighting in found] == [("A book", "page 7"), ("A book blog", "")]


def test_a_source_of_another_edition_says_so() -> None:
    assert cited("A book, page 7", "old").is_elsewhere
    assert not cited("A book, page 7; A book blog", "old").is_elsewhere
    assert not cited("memory", "old").is_elsewhere


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (BOOK.replace('["new"]', '["newer"]'), "editions must name"),
        (BOOK.replace('["new"]', "[]"), "editions must name"),
        (BOOK.replace("official text", "gossip"), "kind must be one of"),
        (BOOK.replace("2001", '"2001"'), "year must be a whole number"),
        (BOOK.replace('title = "A book"', 'name = "A book"'), "title is missing"),
        (BOOK + BLOG.replace("A book blog", "A book"), "stands twice"),
    ],
)
def test_faults_of_the_catalogue_are_told(text: str, fault: str) -> None:
    assert any(fault in told for told in parse_sources(tomllib.loads(text), ["old", "new"])[1])


def test_a_title_that_is_not_there_is_answered_with_the_nearest() -> None:
    assert "nearest: A book" in sources().faults("A boook, page 7")[0]


def test_every_place_of_the_rule_data_is_in_the_catalogue() -> None:
    catalogue = packaged_catalogue()
    cells = [cell for row in catalogue.rows.values() for cell in row.editions.values() if cell.citation is not None]
    seen = {cell.citation.seen for cell in cells if cell.citation} | {text for cell in cells for text in cell.seen_of.values()}
    for place in {place for text in seen for place in split_seen(text) if is_a_source(place)}:
        assert catalogue.sources.find(place) is not None, place
    for source in catalogue.sources.all:
        assert source.kind in KINDS and source.editions
