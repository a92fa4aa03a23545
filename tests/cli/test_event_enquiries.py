"""`marram event enquire` and `enquiries`: what was asked outside an event is kept with book and stamp, and found again by words."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.support.running import Run


class Desk:
    """A store without an event."""

    def __init__(self, called: Run, folder: Path) -> None:
        self.called, self.store = called, str(folder / "store.sqlite")

    def ask(self, *words: str, code: int = 0) -> str:
        ended, out, err = self.called("event", "enquire", *words, "--store", self.store, "--who", "Rowan")
        assert ended == code, out + err
        return out if code == 0 else err

    def find(self, *words: str) -> list[str]:
        ended, out, err = self.called("event", "enquiries", *words, "--store", self.store, "--json")
        assert ended == 0, out + err
        return [one["enquiry"] for one in json.loads(out)["enquiries"]]


@pytest.fixture
def desk(called: Run, tmp_path: Path) -> Desk:
    made = Desk(called, tmp_path)
    made.ask("May I repair spike marks on my line?", "--asked-by", "a player of the second division", "--answer", "Yes, on the green.")
    made.ask("Is the path by the fifteenth an obstruction?", "--asked-by", "the starter", "--follow-up", "look at the surface")
    return made


def test_enquiries_are_found_by_words_wherever_they_stand(desk: Desk) -> None:
    assert desk.find() == ["E2", "E1"]
    assert desk.find("SPIKE", "mark") == ["E1"]
    assert desk.find("surfaces") == ["E2"]
    assert desk.find("starter path") == ["E2"]
    assert desk.find("spike", "path") == []
    assert desk.find("ark") == [], "a word is found from its beginning"
    assert desk.find("e1") == ["E1"]


def test_an_answer_has_its_book_and_stamp_and_an_open_question_has_none(desk: Desk) -> None:
    _, out, _ = desk.called("event", "enquiries", "spike", "--store", desk.store)
    assert "answered, under 2023 [" in out and "]: Yes, on the green." in out
    _, out, _ = desk.called("event", "enquiries", "path", "--store", desk.store)
    kept = json.loads(desk.ask("--name", "E2", "--event", "summer", "--json"))["enquiries"]
    assert [(one["event"], one["who"]) for one in kept] == [("summer", "Rowan")] and desk.find("summer") == ["E2"]
    assert "not answered yet" in out and "to follow: look at the surface" in out and "under" not in out
    _, out, _ = desk.called("event", "enquiries", "path", "--store", desk.store, "--json")
    assert [(one["book"], one["stamp"]) for one in json.loads(out)["enquiries"]] == [("", "")]
    assert "answered, under 2019 [" in desk.ask("--name", "E2", "--answer", "It is artificially surfaced.", "--book", "2019")
    assert desk.find("artificially") == ["E2"]


def test_other_words_in_the_place_of_some_need_a_reason(desk: Desk) -> None:
    assert "stands already" in desk.ask("--name", "E1", "--answer", "No.", code=3)
    assert "answered, under 2016" in desk.ask("--name", "E1", "--answer", "No.", "--book", "2016", "--reason", "asked of an older round")
    assert "stands already" in desk.ask("--name", "E1", "--strike", code=3)
    desk.ask("--name", "E1", "--strike", "--reason", "asked twice")
    assert desk.find() == ["E2"]
    assert "There is no enquiry E9" in desk.ask("--name", "E9", "--answer", "x", code=3)
    assert "says who asks what" in desk.ask("Who?", code=3)
    assert "4000 at most" in desk.ask("x" * 4001, "--asked-by", "y", code=3)


def test_enquiries_are_no_event_and_are_looked_through_with_the_store(desk: Desk) -> None:
    assert "There is no event yet" in desk.called("event", "list", "--store", desk.store)[1]
    assert "/enquiries: 2 rows" in desk.called("store", "verify", "--store", desk.store)[1]
    assert "There is no such enquiry" in desk.called("event", "enquiries", "lightning", "--store", desk.store)[1]
