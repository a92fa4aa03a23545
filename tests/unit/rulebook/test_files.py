"""Reading rule files: every mistake is told, by file, row and edition, and all of them at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from marram.core.errors import RuleDataError
from marram.core.units import LengthUnit, Size
from marram.rulebook.book import open_book
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.reading.files import read_catalogue

EDITIONS = """
[old]
short = "O"
document = "Old rules"
draft = false
[new]
short = "N"
document = "New rules"
draft = true
"""
FORMS = """
[pair]
first = { type = "number", unit = "min", means = "first", default = 7 }
second = { type = "yes-no", means = "second" }
"""
FACTS = """
[[fact]]
name = "second_breach"
question = "Is it the second breach?"
"""
SOURCES = """
[[source]]
title = "A printed book"
year = 2001
editions = ["new"]
kind = "official text"
"""
SEARCH = """
[search]
means = "searching"
[search.parts]
limit_min = { type = "number", unit = "min", means = "time" }
reach = { type = "size", means = "how far" }
way = { type = "word", words = ["walk", "run"], means = "how" }
[search.in.old]
limit_min = 5
reach = { club_lengths = 2 }
way = "walk"
rule = "27-1"
seen = "memory"
[search.in.new]
as = "old"
limit_min = 3
rule = "~18.2"
seen = "A printed book, page 3"
"""


def catalogue(folder: Path, search: str = SEARCH, **more: str) -> Catalogue:
    files = {"editions": EDITIONS, "forms": FORMS, "facts": FACTS, "sources": SOURCES, "search": search} | more
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return read_catalogue(folder)


def test_as_takes_over_what_an_edition_does_not_state(tmp_path: Path) -> None:
    book = open_book("new", [], catalogue(tmp_path))
    assert book.number("search.limit_min").value == 3
    assert book.size("search.reach").value == Size(amount=2, unit=LengthUnit.CLUB_LENGTHS)
    citation = book.number("search.limit_min").citations[0]
    assert (citation.document, citation.rule, citation.is_number_inferred) == ("New rules", "18.2", True)
    assert citation.provenance == "seen in A printed book, page 3"
    assert open_book("old", [], catalogue(tmp_path)).number("search.limit_min").citations[0].provenance == "from memory"


def test_a_default_of_a_form_holds_where_nothing_is_stated(tmp_path: Path) -> None:
    row = '[two]\nmeans = "m"\nform = "pair"\n'
    row += '[two.in.old]\nsecond = true\nrule = "1"\nseen = "memory"\n'
    row += '[two.in.new]\nfirst = 9\nsecond = false\nrule = "1"\nseen = "memory"\n'
    found = catalogue(tmp_path, two=row)
    assert [open_book(edition, [], found).number("two.first").value for edition in ("old", "new")] == [7, 9]
    assert [open_book(edition, [], found).yes("two.second").value for edition in ("old", "new")] == [True, False]


def test_a_cell_that_is_told_briefly_must_be_there(tmp_path: Path) -> None:
    assert catalogue(tmp_path).told_briefly == {}
    with pytest.raises(RuleDataError) as fault:
        catalogue(tmp_path, told_briefly='[old]\nacts = ["no-such-act"]\n[newer]\nacts = []\n')
    assert "told_briefly.toml, old: there is no act.no-such-act" in str(fault.value)
    assert "told_briefly.toml, newer: there is no newer" in str(fault.value)


def test_an_absent_row_says_why(tmp_path: Path) -> None:
    start, _, _ = SEARCH.partition("[search.in.new]")
    book = open_book("new", [], catalogue(tmp_path, start + '[search.in.new]\nabsent = "nobody searches"\n'))
    assert not book.has_row("search")
    assert book.why_absent("search") == "nobody searches"
    with pytest.raises(RuleDataError, match="nobody searches"):
        book.number("search.limit_min")


def test_a_part_that_an_edition_lacks_is_named_in_without(tmp_path: Path) -> None:
    book = open_book("new", [], catalogue(tmp_path, SEARCH + '[search.in.new.without]\nway = "left open"\n'))
    assert not book.has("search.way")
    with pytest.raises(RuleDataError, match="left open"):
        book.word("search.way")


@pytest.mark.parametrize(
    ("right", "wrong", "words"),
    [
        ("limit_min = 5", "limit_min = true", "search.toml, search, old: limit_min is True, expected a number of min, zero or more"),
        ("limit_min = 5", "limit_min = -5", "limit_min is -5"),
        ("limit_min = 5", "limit_min = inf", "limit_min is inf"),
        ("limit_min = 5", 'limit_min = "5"', "limit_min is '5'"),
        ("limit_min = 5\n", "", "old: no value for limit_min: give one or name the part in `without`"),
        ('way = "walk"', 'way = "crawl"', "way is 'crawl', expected one of walk, run"),
        ("{ club_lengths = 2 }", "{ ells = 2 }", "expected one of { club_lengths = … }, { inches = … }, { metres = … }"),
        ("{ club_lengths = 2 }", "{ club_lengths = 0 }", "reach is"),
        ("{ club_lengths = 2 }", "{ inches = 20, metres = 1 }", "reach is"),
        ('as = "old"', 'as = "new"', "`as` must name an edition that gives its own values, not 'new'"),
        ('as = "old"', 'as = "older"', "`as` must name an edition that gives its own values, not 'older'"),
        ('rule = "27-1"\n', "", "old: rule and seen are both needed"),
        ('way = "walk"', 'way = "walk"\nweather = 3', "unknown part 'weather'"),
        ('means = "searching"', 'meaning = "searching"', "unknown member 'meaning'"),
        ('means = "searching"', "", "search: means is missing"),
        ('type = "number", unit = "min"', 'type = "number"', "a number needs a unit"),
        ('type = "number", unit = "min"', 'type = "number", unit = "fortnights"', "a number needs a unit"),
        ('words = ["walk", "run"], ', "", "needs its closed list `words`"),
        ('type = "size"', 'type = "length"', "type must be one of number, yes-no"),
        ("[search.in.new]", "[search.in.newer]", "unknown edition 'newer'"),
        ("[search]", '[search]\nform = "triple"', "unknown form 'triple'; known: pair"),
    ],
)
def test_a_mistake_is_told_with_its_place(tmp_path: Path, right: str, wrong: str, words: str) -> None:
    assert right in SEARCH
    with pytest.raises(RuleDataError) as told:
        catalogue(tmp_path, SEARCH.replace(right, wrong, 1))
    assert words in str(told.value)


def test_an_empty_cell_is_refused(tmp_path: Path) -> None:
    start, _, _ = SEARCH.partition("[search.in.new]")
    with pytest.raises(RuleDataError, match=r"search, new: the cell is empty: give values, `as`, or `absent` with the reason"):
        catalogue(tmp_path, start)


def test_all_mistakes_are_told_at_once(tmp_path: Path) -> None:
    text = SEARCH.replace("limit_min = 5", "limit_min = true").replace('way = "walk"', 'way = "crawl"')
    with pytest.raises(RuleDataError) as told:
        catalogue(tmp_path, text, broken="[half")
    message = str(told.value)
    assert "limit_min is True" in message
    assert "way is 'crawl'" in message
    assert "broken.toml: not TOML" in message


def test_a_row_stands_in_one_file_only(tmp_path: Path) -> None:
    with pytest.raises(RuleDataError, match="the row stands in two files"):
        catalogue(tmp_path, again=SEARCH)


def test_a_size_may_be_that_of_another_key_but_not_in_a_ring(tmp_path: Path) -> None:
    pointing = SEARCH.replace("[search", "[look").replace("{ club_lengths = 2 }", '"search.reach"')
    book = open_book("old", [], catalogue(tmp_path, look=pointing))
    found = book.size("look.reach")
    assert found.value == Size(amount=2, unit=LengthUnit.CLUB_LENGTHS)
    ring = catalogue(tmp_path, SEARCH.replace("{ club_lengths = 2 }", '"look.reach"'), look=pointing)
    with pytest.raises(RuleDataError, match="in a ring"):
        open_book("old", [], ring).size("search.reach")


def test_a_list_of_rows_names_rows_that_exist(tmp_path: Path) -> None:
    row = '[lists]\nmeans = "m"\n[lists.parts]\nall = { type = "rows", of = "relief", means = "m" }\n'
    row += '[lists.in.old]\nall = ["nowhere"]\nrule = "1"\nseen = "memory"\n[lists.in.new]\nas = "old"\nrule = "1"\nseen = "memory"\n'
    with pytest.raises(RuleDataError, match=r"all names relief\.nowhere, and there is no such row"):
        catalogue(tmp_path, lists=row)


def test_a_case_that_turns_on_a_misspelt_fact_names_the_nearest(tmp_path: Path) -> None:
    forms = '[act]\ncases = { type = "cases", means = "what follows" }\n'
    row = '["act.delay"]\nmeans = "m"\nform = "act"\n["act.delay".in.new]\nas = "old"\nrule = "2"\nseen = "memory"\n'
    row += '["act.delay".in.old]\ncases = [{ when = ["secnd_breach"], strokes = 2 }, { strokes = 1 }]\nrule = "1"\nseen = "memory"\n'
    fault = r"acts\.toml, act\.delay, old: there is no fact 'secnd_breach' in facts\.toml; nearest: second_breach"
    with pytest.raises(RuleDataError, match=fault):
        catalogue(tmp_path, forms=forms, acts=row)


def test_a_list_of_facts_that_names_none_is_told(tmp_path: Path) -> None:
    forms = FORMS + '[barred]\nbarred_by = { type = "words", of = "fact", words = ["it_rained"], means = "facts" }\n'
    with pytest.raises(RuleDataError, match=r"forms\.toml, barred\.barred_by: there is no fact 'it_rained'"):
        catalogue(tmp_path, forms=forms)


def test_an_edition_that_follows_another_keeps_what_was_seen_of_it(tmp_path: Path) -> None:
    """The new edition states its limit alone, seen in its own book; how far and how are taken over, and were told from memory."""
    editions = EDITIONS + 'follows = "old"\n'
    start, _, own = SEARCH.partition("[search.in.new]")
    files = catalogue(tmp_path, start + "[search.in.new]" + own.replace('as = "old"\n', ""), editions=editions)
    book = open_book("new", [], files)
    assert book.number("search.limit_min").citations[0].provenance == "seen in A printed book, page 3"
    for citations in (book.word("search.way").citations, book.size("search.reach").citations):
        assert citations[0].seen == "memory"
    silent = open_book("new", [], catalogue(tmp_path, start, editions=editions))
    cited = silent.number("search.limit_min")
    assert (cited.value, cited.citations[0].edition, cited.citations[0].is_number_inferred) == (5, "new", True)
