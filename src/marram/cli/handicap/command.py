"""`marram handicap`: handicaps under each edition of the Rules of Handicapping."""

from __future__ import annotations

import click

from marram.cli.lazy import lazy_group

_COMMANDS = {
    "course": ("marram.cli.handicap.strokes_from_index", "course", "The Course Handicap that an Index gives on a set of tees."),
    "playing": ("marram.cli.handicap.strokes_from_index", "playing", "The Playing Handicap of a player, a side or a match."),
    "strokes": ("marram.cli.handicap.strokes_by_hole", "strokes", "On which holes strokes are received, or given."),
    "net-double-bogey": ("marram.cli.handicap.strokes_by_hole", "net_double_bogey", "The most that each hole counts; adjusted gross."),
    "differential": ("marram.cli.handicap.scores_for_handicap", "differential", "The Score Differential of a score."),
    "index": ("marram.cli.handicap.scores_for_handicap", "index", "The Handicap Index that a record of scores gives."),
    "accept": ("marram.cli.handicap.rounds_and_ratings", "accept", "Whether a score counts for handicap, and why not."),
    "most-likely": ("marram.cli.handicap.rounds_and_ratings", "most_likely", "The score of a hole that was begun and not finished."),
    "stroke-index": ("marram.cli.handicap.rounds_and_ratings", "stroke_index", "How well stroke indexes are spread over 18 holes."),
    "slope": ("marram.cli.handicap.rounds_and_ratings", "slope", "The Slope Rating that two ratings give."),
}


@click.group(cls=lazy_group(_COMMANDS))
def handicap() -> None:
    """Work out handicaps under the Rules of Handicapping, which have editions of their own (2020 and 2024).

    A plus handicap is written with its plus, as +2.4. Figures are rounded once, a half upward.
    """
