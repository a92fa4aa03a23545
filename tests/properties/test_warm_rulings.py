"""A warm ruling is a cold one: what course and book keep from earlier rulings changes no digit of a later one.

Cold is a course and a book of which nothing is kept yet, opened for one ruling; warm are those that all rulings of this file share.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from marram.core.errors import MarramError
from marram.core.kept import Kept
from marram.core.terms import Club, Hand
from marram.course.course import Course
from marram.interchange.books.book_files import local_rules, read_book
from marram.interchange.courses.course_geojson import read_course
from marram.rulebook.book import Book
from marram.rulebook.facts import Settled
from marram.rulings import Incident, rule_on
from marram.rulings.rule_on import situations
from tests.support.random_incidents import random_incident
from tests.support.whole_ruling import plain

COURSE = read_course(Path(__file__).resolve().parents[2] / "examples" / "courses" / "thimble-moor.geojson")
ADOPTED = "+".join(["2023", *(overlay.name for overlay in local_rules() if "2023" in overlay.on and overlay.name != "preferred-lies-6-in")])
BOOKS = [read_book(name) for name in ("2016", "draft-2017", "2019", "2023", ADOPTED)]
SITUATIONS = tuple(situations(BOOKS[0]))
FACTS = sorted(name for name, fact in BOOKS[0].catalogue.facts.items() if fact.answer is Settled.YES_NO)
MET = ("immovable-obstruction", "ground-under-repair", "temporary-water", "no-play-zone", "wrong-green", "young-tree")


def told(incident: Incident, course: Course, book: Book) -> object:
    try:
        return plain(rule_on(incident, course, book))
    except MarramError as refusal:
        return repr(refusal)


def cold(incident: Incident, book: Book) -> object:
    return told(incident, replace(COURSE, kept=Kept()), replace(book))


def compare(count: int, seed: int) -> int:
    """Rule warm under every book and cold under one; how many of the rulings gave an answer."""
    random, answered = np.random.default_rng(seed), 0
    for number in range(count):
        incident = random_incident(COURSE, SITUATIONS[number % len(SITUATIONS)], FACTS, random)
        warm = [told(incident, COURSE, book) for book in BOOKS]
        asked = int(random.integers(len(BOOKS)))
        assert warm[asked] == cold(incident, BOOKS[asked]), f"seed {seed}, incident {number}, {BOOKS[asked].name}: {incident}"
        answered += not isinstance(warm[asked], str)
    return answered


def test_sixty_incidents() -> None:
    assert compare(60, seed=14) > 40


@pytest.mark.long
def test_a_thousand_incidents() -> None:
    assert compare(1000, seed=15) > 700


def otherwise_stated(incident: Incident) -> list[Incident]:
    """The same ball, with one thing about it stated otherwise at a time."""
    player = incident.player
    players = [replace(player, hand=hand, club=club) for hand in Hand for club in (*Club, None)]
    told = [replace(incident, player=each) for each in (*players, replace(player, longest_club_in=40.0), replace(player, hand=None))]
    told += [replace(incident, hole=hole) for hole in list(COURSE.holes)[:2]]
    told += [replace(incident, situation=name) for name in ("unplayable", *MET[:3])]
    return [*told, replace(incident, conditions=()), replace(incident, facts={}), replace(incident, crossed_at=None)]


def test_the_same_ball_stated_otherwise() -> None:
    random = np.random.default_rng(16)
    for number, situation in enumerate(MET):
        book = BOOKS[(number + 3) % len(BOOKS)]
        for incident in otherwise_stated(random_incident(COURSE, situation, (), random))[number % 2 :: 2]:
            assert told(incident, COURSE, book) == cold(incident, book), f"{book.name}: {incident}"
