"""Adapters for whole events: terms, entries and cards as tables, through the store, to places, charges and who is in no place.

With `steps` each step is typed behind `marram event`, as an official types it; the files that steps name stand under `tables`.
"""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from click.testing import CliRunner

from marram.cli.main import marram
from marram.events.event_results import PlaceList
from marram.office.events.event_standing import EventStanding, stand_of
from marram.office.events.kept_event import KeptEvent
from marram.office.events.run_event import DrawAsked, begin_event, draw_field, drawn_by, enter_players, give_times, take_cards
from marram.office.workroom import Workroom
from marram.store.kept_rows import Hand
from tests.published.adapter import Adapter, Unfit

_EVENT = "by-hand"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stood:
    """An event with how it stands."""

    event: KeptEvent
    stands: EventStanding


def _run(inputs: Mapping[str, object]) -> EventStanding:
    """Run the event in a folder of its own, as the commands do."""
    with TemporaryDirectory() as folder:
        files = {name: Path(folder) / f"{name}.{end}" for name, end in (("terms", "toml"), ("entries", "csv"), ("cards", "csv"))}
        for name, path in files.items():
            path.write_text(str(inputs[name]), encoding="utf-8")
        room, hand = Workroom(), Hand(who="Rowan", clock=lambda: "2026-06-13T08:00:00.000+00:00")
        store = room.store(str(Path(folder) / "store.sqlite"), is_new=True)
        book = str(inputs["book"])
        begin_event(store, hand, _EVENT, room.event_terms(files["terms"]), (book, room.book(book)))
        enter_players(store, hand, room.event(store, _EVENT), room.entries(files["entries"], room.event(store, _EVENT)).entries)
        draw_field(store, hand, room.event(store, _EVENT), DrawAsked(by=drawn_by("random"), seed="1"))
        if room.event(store, _EVENT).terms.starting is not None:
            give_times(store, hand, room.event(store, _EVENT), None)
        event = room.event(store, _EVENT)
        take_cards(store, hand, event, room.returned_cards(files["cards"], event).cards, "cards.csv")
        return stand_of(room.event(store, _EVENT))


def _typed(inputs: Mapping[str, object]) -> _Stood:
    """Run the event step by step, each as it is typed; `tables` are the files that the steps name."""
    tables, steps = inputs["tables"], inputs["steps"]
    if not isinstance(tables, dict) or not isinstance(steps, list):
        raise Unfit("tables are files by name, and steps a list of what is typed behind `marram event`")
    with TemporaryDirectory() as folder:
        files = {"terms.toml": inputs["terms"], "entries.csv": inputs["entries"], **tables}
        for name, text in files.items():
            (Path(folder) / name).write_text(str(text), encoding="utf-8")
        store = str(Path(folder) / "store.sqlite")
        _type(f"new terms.toml --event {_EVENT} --book {inputs['book']}", folder, store, files)
        _type("enter entries.csv", folder, store, files)
        for step in steps:
            _type(str(step), folder, store, files)
        room = Workroom()
        event = room.event(room.store(store), _EVENT)
        return _Stood(event=event, stands=stand_of(event))


def _type(step: str, folder: str, store: str, files: Mapping[str, object]) -> None:
    words = [str(Path(folder) / word) if word in files else word for word in shlex.split(step)]
    ended = CliRunner().invoke(marram, ["event", *words, "--store", store, "--who", "Rowan"])
    if ended.exit_code:
        raise Unfit(f"{step}: {ended.output.strip()}")


def _work_out(inputs: Mapping[str, object]) -> dict[str, object]:
    return _told(_run(inputs))


def _work_out_steps(inputs: Mapping[str, object]) -> dict[str, object]:
    stood = _typed(inputs)
    stands, event = stood.stands, stood.event
    found = _told(stands) | {
        "counted": [[one.round, *(one.holes or ())] for one in stands.counts],
        "draws": {str(number): [list(group) for group in draw.groups] for number, draw in event.draws.items() if number > 1},
        "times": {
            str(number): [[group.time, group.hole, *group.players] for group in starts.groups]
            for number, starts in event.start_lists.items()
            if number > 1
        },
        "teams": [[team.place, team.team, team.total, team.decided_by] for team in stands.found.teams if team.place is not None],
        "teams_without": [team.team for team in stands.found.teams if team.place is None],
        "team_scores": {team.team: [[one.player, one.score, one.does_count] for one in team.scores] for team in stands.found.teams},
    }
    if stands.bracket is not None:
        played = [place for one in stands.bracket.rounds for place in one if place.loser]
        found |= {
            "byes": list(stands.bracket.byes),
            "matches": [[place.round, place.winner, place.loser, place.told] for place in played],
            "winner": stands.bracket.winner,
        }
    return found


def _told(stands: EventStanding) -> dict[str, object]:
    """What came out; places in the scores of the terms, and gross besides."""
    lists = {(one.division, one.is_net): one for one in stands.found.lists}
    own = stands.found.lists[0]
    found: dict[str, object] = {
        "places": _places(own),
        "charges": [[ranked.name, charge.hole, charge.amount, charge.ruling] for ranked in own.ranked for charge in ranked.charges],
        "without": [[ranked.name, ranked.status.value] for ranked in own.ranked if ranked.placed is None],
        "not_in": [player for player, _ in stands.found.not_in],
    }
    if ("", False) in lists:
        found["gross"] = _places(lists["", False])
    for (division, is_net), one in lists.items():
        if division and is_net == own.is_net:
            found[division.casefold()] = _places(one)
    return found


def _places(one: PlaceList) -> list[list[object]]:
    return [
        [ranked.placed.place, ranked.name, ranked.total, ranked.placed.decided_by] for ranked in one.ranked if ranked.placed is not None
    ]


ADAPTERS = (
    Adapter(topic="event_by_hand", inputs=frozenset({"book", "terms", "entries", "cards"}), work_out=_work_out),
    Adapter(topic="event_by_hand", inputs=frozenset({"book", "terms", "entries", "tables", "steps"}), work_out=_work_out_steps),
)
