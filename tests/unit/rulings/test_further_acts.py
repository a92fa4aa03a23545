"""What further acts turn on is asked with their names, and their facts are read and refused like those of the first act."""

from __future__ import annotations

import json
from itertools import pairwise

import pytest
from click.testing import CliRunner, Result

from marram.cli.act.command import act
from marram.interchange.books.book_files import read_book
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulings.acts.acts import acts_of, rule_on_act
from marram.rulings.acts.breach_relations import Relations
from tests.support.editions import ASKED_BY_NAME

CATALOGUE = packaged_catalogue()
LATE, MUSIC, DELAY = "late-start-within-5", "listens-to-music", "unreasonable-delay"


def asked(*words: str) -> Result:
    return CliRunner().invoke(act, list(words))


def turns(*words: str) -> list[dict[str, object]]:
    done = asked(*words, "--json")
    assert done.exit_code == 0, done.output
    (book,) = json.loads(done.stdout)["books"]
    return list(book["depends_on"])


@pytest.mark.parametrize("form", ["", "match-play", "stableford"])
@pytest.mark.parametrize("edition", ["2016", "2023"])
def test_every_act_asks_as_it_does_alone(edition: str, form: str) -> None:
    book = read_book(edition)
    kinds = Relations(book)
    asking = [name for name in acts_of(CATALOGUE) if rule_on_act(book, name, {}).turns][::4]
    more = ("--book", edition, *(("--form", form) if form else ()))
    assert len(asking) > 5
    for one, other in pairwise(asking):
        if kinds.kind_of(one) is None or kinds.kind_of(one) is not kinds.kind_of(other):
            assert turns(one, "--also", other, *more) == turns(one, *more) + turns(other, *more), (one, other)


def test_the_questions_stand_in_the_headline_with_the_name_of_their_act() -> None:
    told = " ".join(asked(LATE, "--also", MUSIC, "--book", "2016").output.split())
    assert "Also listens-to-music: In stroke play: It depends; the first yes decides. Was it brief, and between two holes?" in told
    assert told.index("Also listens-to-music") < told.index("together: stroke play")
    assert "If nothing of what is asked of the acts is so, together: stroke play" in told
    assert "--also listens-to-music:NAME=true or NAME=false, NAME being briefly-between-holes, second-breach" in told


def test_a_fact_behind_the_name_settles_the_question_of_that_act_alone() -> None:
    words = (DELAY, "--also", f"{MUSIC}:second-breach=false, briefly-between-holes=false", "--book", "2016")
    assert {(entry["act"], entry["fact"]) for entry in turns(*words)} == {
        (DELAY, "third_breach"),
        (DELAY, "second_breach"),
        (DELAY, "between_two_holes"),
        (MUSIC, "between_two_holes"),
    }
    settled = asked(LATE, "--fact", "exceptional_circumstances=false", "--also", "double-hit", "--book", "2023")
    assert "Together: stroke play" in settled.output and "If nothing of what is asked" not in settled.output


def test_a_later_breach_that_the_sum_counts_is_not_asked_whether_it_is_the_second() -> None:
    entries = turns(DELAY, "--also", DELAY, "--between", "event", "--book", "2023")
    assert [(entry["fact"], number) for number, entry in enumerate(entries)][-1] == ("between_two_holes", len(entries) - 1)
    assert [entry["fact"] for entry in entries].count("second_breach") == [entry["fact"] for entry in turns(DELAY, "--book", "2023")].count(
        "second_breach"
    )
    assert turns(DELAY, "--also", DELAY, "--between", "one-act", "--book", "2023") == turns(DELAY, "--book", "2023") * 2


def test_each_further_act_is_told_whole_and_says_what_a_book_does_not_read() -> None:
    done = asked(LATE, "--also", f"{MUSIC}:play-is-stopped=true", *ASKED_BY_NAME, "--json")
    books = json.loads(done.stdout)["books"]
    assert [book["also"][0]["facts_not_read"] for book in books] == [["play_is_stopped"], [], [], []]
    assert [book["also"][0]["act"] for book in books] == [MUSIC] * 4
    text = " ".join(asked(LATE, "--also", f"{MUSIC}:play-is-stopped=true").output.split())
    assert "Of listens-to-music, 2016 does not read: play-is-stopped." in text


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ("secnd-breach=true", ("There is no fact 'secnd-breach'", "Nearest: second-breach")),
        ("second-breach=true,third-breach=true", ("second-breach and third-breach cannot both be true",)),
        ("second-breach=true,second-breach=false", ("second_breach is stated true and false",)),
        ("second-breach", ("states no fact",)),
        ("conceding=true", ("No book asked reads the fact 'conceding' of unreasonable-delay",)),
    ],
)
def test_facts_of_a_further_act_are_refused_in_words_and_with_its_place(facts: str, words: tuple[str, ...]) -> None:
    done = asked(LATE, "--also", f"{DELAY}:{facts}")
    told = str(done.exception) + getattr(done.exception, "hint", "")
    assert done.exit_code != 0
    assert all(word in told for word in words), told
    assert getattr(done.exception, "field", "") == f"also={DELAY}"
