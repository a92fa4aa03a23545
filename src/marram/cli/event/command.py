"""`marram event`: a competition from entries to results, kept in a store."""

from __future__ import annotations

import click

from marram.cli.lazy import lazy_group

_COMMANDS = {
    "new": ("marram.cli.event.begin_command", "new", "Begin an event by its terms."),
    "terms": ("marram.cli.event.begin_command", "terms_", "Set the terms anew, with a reason."),
    "list": ("marram.cli.event.begin_command", "list_", "List the events of the store."),
    "enter": ("marram.cli.event.begin_command", "enter", "Enter players from a table."),
    "draw": ("marram.cli.event.draw_command", "draw", "Draw the field into groups."),
    "times": ("marram.cli.event.draw_command", "times", "Give each group its time and its hole."),
    "cards": ("marram.cli.event.cards_command", "cards", "Take cards in from a table."),
    "print": ("marram.cli.event.print_command", "print_", "Starting list, cards with strokes, results and local rules as PDF."),
    "results": ("marram.cli.event.cards_command", "results", "Places by division, gross and net, each with what decided it."),
    "rounds": ("marram.cli.event.cards_command", "rounds", "Rounds that count for handicap, as rows of a record."),
    "log": ("marram.cli.event.log_command", "log", "Log a ruling: its penalty reaches the card once."),
    "observe": (
        "marram.cli.event.records.observe_command",
        "observe",
        "Write down a ruling's seconds, a search, a drop, a putt, times of a group.",
    ),
    "observed": ("marram.cli.event.records.observe_command", "observed", "Take the log of a day from a table."),
    "watch": ("marram.cli.event.records.observe_command", "watch", "Say what groups were watched for all round."),
    "pace": ("marram.cli.event.records.pace_command", "pace", "Time by hole, gap ahead, and who is out of position."),
    "enquire": ("marram.cli.event.records.enquiry_command", "enquire", "Write down a question or a ruling outside an event."),
    "enquiries": ("marram.cli.event.records.enquiry_command", "enquiries", "Find enquiries by words."),
    "withdraw": ("marram.cli.event.log_command", "withdraw", "Log that a player withdraws, does not start or is disqualified."),
    "delay": ("marram.cli.event.log_command", "delay", "Delay starting times."),
    "suspend": ("marram.cli.event.play_command", "suspend", "Log that play is suspended."),
    "resume": ("marram.cli.event.play_command", "resume", "Log that play goes on; groups that wait start later."),
    "two-balls": ("marram.cli.event.day_command", "two_balls", "Keep both scores of a hole until the Committee decides."),
    "marker": ("marram.cli.event.day_command", "marker", "Log a marker who is missing, or who marks instead."),
    "regroup": ("marram.cli.event.day_command", "regroup", "Move a player to another group, or let a late entry start."),
    "shorten": ("marram.cli.event.decide_command", "shorten", "Cut a round short or cancel it."),
    "cut": ("marram.cli.event.decide_command", "cut", "Make the cut: who plays on."),
    "play-off": ("marram.cli.event.decide_command", "play_off", "Log a play-off or a lot: its order decides."),
    "bracket": ("marram.cli.event.bracket_command", "bracket", "Draw the bracket of a match play."),
    "match": ("marram.cli.event.bracket_command", "match", "Take the result of a match in: the winner goes on."),
    "close": ("marram.cli.event.log_command", "close", "Say how far the results stand: provisional, final, closed."),
    "season": ("marram.cli.event.records.season_command", "season", "What came up over a season, by hole, place, act and time."),
    "records": ("marram.cli.event.records.records_command", "records", "The records of a trial from its events, without names."),
    "history": ("marram.cli.event.history_command", "history", "How a score came to be: every row, who wrote it, when and why."),
}


@click.group(cls=lazy_group(_COMMANDS))
def event() -> None:
    """Run a competition: terms, entries, draw, starting times, cards, results.

    Everything is kept in a store, marram.sqlite in the working folder unless --store says otherwise: rows are appended and superseded,
    each with who wrote it, when and why.
    """
