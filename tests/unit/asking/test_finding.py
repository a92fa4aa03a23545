"""What can be asked is found by its own words and phrases, and only what is covered is an answer."""

from __future__ import annotations

import tomllib
from importlib import resources

import pytest

from marram.asking.entries import FAMILIES, Kind, read_phrases
from marram.asking.finding import NEAREST, Register, ask, find_of_kind
from marram.asking.heard_words import data_tables
from marram.cli.ask.going_on import command_of, command_under
from marram.interchange.books.book_files import read_books
from marram.office.play.ask import Lead, ask_under_books, whole_register
from marram.rulebook.reading.files import packaged_catalogue


def _command(lead: Lead) -> str:
    return command_under(lead.found.entry, lead.books)


@pytest.fixture(scope="module")
def register() -> Register:
    return whole_register()


def test_every_phrase_belongs_to_an_entry(register: Register) -> None:
    assert not read_phrases().keys() - register.entries.keys()


def test_every_row_of_a_family_that_is_asked_about_is_an_entry(register: Register) -> None:
    rows = {row for row in packaged_catalogue().rows if row.partition(".")[0] in FAMILIES and "." in row}
    assert rows <= register.entries.keys()
    assert {entry.kind for entry in register.entries.values()} == set(Kind)


def test_an_entry_is_found_by_its_own_title(register: Register) -> None:
    lost = []
    for name, entry in register.entries.items():
        found = [other.id for other, _ in register.find(register.lexicon.hear(entry.title))[:5]]
        lost += [name] if name not in found and entry.kind is not Kind.NOT_COVERED else []
    assert not lost


def test_nearly_every_entry_has_phrases(register: Register) -> None:
    phrases = read_phrases()
    without = [name for name, entry in register.entries.items() if entry.kind is not Kind.RELIEF and len(phrases.get(name, ())) < 3]
    assert len(without) <= 8, f"give these some phrases in src/marram/asking/data: {without}"


def test_no_phrase_stands_twice_under_one_entry() -> None:
    assert not [name for name, phrases in read_phrases().items() if len(set(phrases)) < len(phrases)]


def test_every_command_can_be_typed(register: Register) -> None:
    from marram.cli.main import _COMMANDS

    for entry in register.entries.values():
        words = command_of(entry).split()
        assert entry.kind is Kind.NOT_COVERED or (words[0] == "marram" and words[1] in _COMMANDS)


def test_a_word_of_a_bag_is_worth_less_the_more_entries_have_it(register: Register) -> None:
    answer = ask(register, "ball rake")
    assert answer.found[0].entry.id == "thing.rake"


def test_scores_fall_and_an_answer_is_the_same_twice(register: Register) -> None:
    first, again = ask(register, "putted with the pin in"), ask(register, "putted with the pin in")
    assert first == again
    scores = [found.score for found in first.found]
    assert scores == sorted(scores, reverse=True) and scores[0] > scores[-1] > 0


@pytest.mark.parametrize("words", ["", "!!!", "the", "xqzt vbnm"])
def test_what_says_nothing_is_not_covered(register: Register, words: str) -> None:
    answer = ask(register, words)
    assert not answer.is_covered and not answer.found


def test_what_is_not_covered_names_its_subject_and_what_comes_nearest(register: Register) -> None:
    answer = ask(register, "how do I stop slicing my driver")
    assert not answer.is_covered
    assert answer.subject.startswith("How to swing")
    assert 0 < len(answer.nearest) <= NEAREST


def test_slips_of_spelling_find_the_same(register: Register) -> None:
    assert ask(register, "spinkler haed in my stnace").found[0].entry.id == "thing.sprinkler-head"


def test_a_local_rule_goes_on_with_the_book_it_lies_on() -> None:
    leads = ask_under_books("winter rules six inches", read_books(["2019"]))
    (found,) = [lead for lead in leads.found if lead.found.entry.id == "local-rule.preferred-lies-6-in"]
    assert _command(found).endswith("--book 2019+preferred-lies-6-in")
    laid = ask_under_books("winter rules six inches", read_books(["2019+preferred-lies-6-in"]))
    (found,) = [lead for lead in laid.found if lead.found.entry.id == "local-rule.preferred-lies-6-in"]
    assert _command(found).endswith("--book 2019+preferred-lies-6-in")


def test_a_relief_names_the_situations_that_open_it(register: Register) -> None:
    entry = register.entries["relief.penalty-area-lateral-red"]
    assert "penalty-area" in entry.situations
    assert command_of(register.entries["relief.small"]).startswith("marram book show relief.small.")


def test_a_relief_is_opened_through_another_that_it_is_carried_out_by(register: Register) -> None:
    assert "ground-under-repair" in register.entries["relief.ground-condition-general-area"].situations


def test_the_command_leaves_out_a_book_that_does_not_have_the_entry() -> None:
    leads = ask_under_books("no play zone", read_books(["2016", "2023"]))
    (found,) = [lead for lead in leads.found if lead.found.entry.id == "relief.no-play-zone-in-condition"]
    missing = [name for name, _ in found.missing]
    assert [name for name in ("2016", "2023") if f"--book {name}" in _command(found)] == [
        name for name in ("2016", "2023") if name not in missing
    ]
    rule = ask_under_books("young trees through the green", read_books(["2016", "2023"])).found[0]
    assert [name for name, _ in rule.missing] == ["2023"]
    assert _command(rule).endswith("--book 2016+young-trees-through-the-green")


def test_only_entries_of_the_kind_asked_for_are_found() -> None:
    catalogue = packaged_catalogue()
    acts = {row.partition(".")[2] for row in catalogue.rows if row.startswith("act.")}
    found = {name for name, _ in find_of_kind(catalogue, Kind.ACT, "rake in the bunker")}
    assert found and found <= acts


def test_the_words_of_the_data_are_plain() -> None:
    folder = resources.files("marram.asking").joinpath("data")
    for file in folder.iterdir():
        if file.name.startswith("phrases"):
            for phrases in tomllib.loads(file.read_text(encoding="utf-8")).values():
                assert all(phrase == phrase.strip() and phrase for phrase in phrases)


def test_every_word_that_brings_up_a_caution_does_so_and_names_a_caution_of_the_rule_data(register: Register) -> None:
    rows = packaged_catalogue().rows
    for _, table in data_tables("cautions"):
        for caution, phrases in table.items():
            assert caution in rows and isinstance(phrases, list)
            for words in phrases:
                assert caution in ask(register, f"what about the {words} then").cautions, words


@pytest.mark.parametrize("words", ["the ball overhangs the hole", "a group of four on the tee", "who is ahead in the match"])
def test_one_word_of_several_brings_up_no_caution(register: Register, words: str) -> None:
    """A rabbit hole and a group ahead can hurt somebody; the hole, a group and being ahead cannot."""
    assert ask(register, words).cautions == ()
