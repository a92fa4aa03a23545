"""Tables of an event for a spreadsheet: the starting list, and every list of places."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from io import StringIO

from marram.events.event_results import EventResults
from marram.events.starting_list import StartingList
from marram.office.scoring.results_table import safe_cell

_PLACES = ("division", "scores", "place", "player", "score", "score_says", "decided_by", "status")


def starting_table(starts: StartingList) -> str:
    """The starting list as CSV, one player a row.

    Args:
        starts: The list.
    """
    rows = [(group.time, f"{group.hole}{group.letter}", str(group.number), player) for group in starts.groups for player in group.players]
    return _table(("time", "hole", "group", "player"), rows)


def places_table(found: EventResults) -> str:
    """Every list of places as CSV, one player, side or team a row; cards that are not in stand at the end of the first list.

    Args:
        found: The results.
    """
    rows = [
        (
            one.division,
            "net" if one.is_net else "gross",
            str(ranked.placed.place) if ranked.placed is not None else "",
            ranked.name,
            "" if ranked.total is None else str(ranked.total),
            ranked.words,
            ranked.placed.decided_by if ranked.placed is not None else "",
            ranked.status.value,
        )
        for one in found.lists
        for ranked in one.ranked
    ]
    rows += [
        ("", "teams", "" if team.place is None else str(team.place), team.team, "" if team.total is None else str(team.total), team.why)
        + (team.decided_by, "returned" if team.place is not None else "no-result")
        for team in found.teams
    ]
    rows += [("", "", "", player, "", f"round {number}", "", "card-not-in") for player, number in found.not_in]
    return _table(_PLACES, rows)


def _table(heading: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    out = StringIO(newline="")
    table = csv.writer(out, lineterminator="\n")
    table.writerow(heading)
    for row in rows:
        table.writerow([safe_cell(cell) for cell in row])
    return out.getvalue()
