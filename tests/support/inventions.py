"""Two reliefs that no edition has, composed of data alone, and incidents that meet them."""

from __future__ import annotations

from marram.course.course import Course
from marram.course.frame import Position
from marram.interchange.field.incident_file import parse_incident
from marram.rulebook import Book, Overlay, open_book, packaged_catalogue, read_overlay
from marram.rulebook.book import know_each_other
from marram.rulings.case.facts_of_situation import known_facts
from marram.rulings.case.incident import Incident

DIVOT = """
title = "Free relief from divot holes"
dated = 2026-03-01
on = ["2023"]
[[change]]
because = "A good drive should not be punished by somebody else's divot hole."
[change.conditions.divot-hole]
means = "A hole in the turf that a stroke has left."
radius_m = 0.08
[change.add."situation.divot-hole"]
means = "The ball lies in a divot hole."
procedures = ["divot-hole-fairway"]
conditions = ["divot-hole"]
[change.add."relief.divot-hole-fairway"]
means = "Free relief from a divot hole in the general area."
title = "Free relief from the divot hole"
allowed = true
penalty_strokes = 0
ball_in = ["general-area"]
reference = "nearest-point-of-complete-relief"
clear_of = ["lie"]
shape = "disc"
size = { inches = 6 }
in_areas = ["general-area"]
put = "place"
"""
HEATHER = """
title = "Out of the heather for a stroke"
dated = 2026-04-01
on = ["2016", "2023"]
[[change]]
because = "Players hurt their wrists there and hold up everybody."
[change.conditions.heather]
means = "Heather that the Committee has marked."
[change.add."relief.heather-wide"]
means = "Penalty relief sideways out of the heather."
title = "Three club-lengths sideways"
allowed = true
penalty_strokes = 1
ball_in = ["general-area"]
reference = "ball-spot"
shape = "disc"
size = { club_lengths = 3 }
[change.add."relief.heather-line"]
means = "Penalty relief back on the line out of the heather."
title = "Back on the line from the heather"
allowed = true
penalty_strokes = 2
ball_in = ["general-area"]
reference = "point-on-line"
line_from = "ball-spot"
shape = "strip"
size = { metres = 1 }
which = "original"
needs = ["embedded"]
[change.add."situation.heather"]
means = "The ball lies in marked heather."
procedures = ["heather-wide", "heather-line"]
conditions = ["heather"]
"""


def trial(text: str, name: str) -> Overlay:
    return read_overlay(text, name=name, catalogue=packaged_catalogue())


def books(text: str, name: str, edition: str = "2023") -> tuple[Book, Book]:
    """The book with the trial, and the edition alone, asked together."""
    catalogue = packaged_catalogue()
    with_it, alone = know_each_other((open_book(edition, [trial(text, name)], catalogue), open_book(edition, [], catalogue)))
    return with_it, alone


def incident_in(course: Course, book: Book, situation: str, kind: str, ball: Position, middle: Position, radius_m: float) -> Incident:
    """A ball in something of a kind, as an official writes it."""
    text = f"""
    hole = 1
    situation = "{situation}"
    ball = {{ x_m = {ball.x_m}, y_m = {ball.y_m} }}
    [player]
    longest_club_in = 45
    [[conditions]]
    kind = "{kind}"
    x_m = {middle.x_m}
    y_m = {middle.y_m}
    radius_m = {radius_m}
    """
    kinds = book.catalogue.added_conditions
    return parse_incident(text, course, where="incident.toml", known_facts=known_facts(book.catalogue), added_kinds=kinds)
