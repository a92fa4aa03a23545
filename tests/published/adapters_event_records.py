"""Adapter for events as days of a trial: tables through the store to the values that leave it, and what the report says of them."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from marram.office.event_records.keep_log import keep_log
from marram.office.event_records.make_records import days_table, make_records, values_table
from marram.office.events.log_event import RulingAsked, log_ruling
from marram.office.events.run_event import DrawAsked, begin_event, draw_field, drawn_by, enter_players, give_times, take_cards
from marram.office.trials.report_trial import report_trial
from marram.office.workroom import Workroom
from marram.store.kept_rows import Hand
from marram.store.open_store import Store
from tests.published.adapter import Adapter

_HAND = Hand(who="Rowan", clock=lambda: "2026-06-13T08:00:00.000+00:00")


def _work_out(inputs: Mapping[str, Any]) -> dict[str, object]:
    with TemporaryDirectory() as name:
        folder, room = Path(name), Workroom()
        trial_file = _file(folder, "trial.toml", inputs["trial"])
        store = room.store(str(folder / "store.sqlite"), is_new=True)
        for number, day in enumerate(inputs["days"], start=1):
            _play(room, store, folder, f"d{number:02d}", inputs, day)
        trial = room.trial(trial_file)
        made = make_records(store, _HAND, trial, [room.event(store, event) for event in store.events()], {})
        days, values = _file(folder, "days.csv", days_table(made)), _file(folder, "values.csv", values_table(made))
        names = {player for group in csv.DictReader(io.StringIO(inputs["groups"])) for player in [group["player"]]}
        assert not any(player in path.read_text(encoding="utf-8") for player in names for path in (days, values))
        reported = report_trial(trial, room.records(days, values, trial), None, room.book("2023"))
        return {
            "days": [list(row)[:7] for row in csv.reader(io.StringIO(days_table(made)))][1:],
            "values": [
                [one.day, one.outcome, one.value, one.group, one.hole or "round"]
                for one in sorted(made.values, key=lambda one: (one.day, one.outcome, one.value, one.group))
            ],
            "verdicts": [_verdict(finding) for finding in reported.weighed.findings],
        }


def _verdict(finding: Any) -> dict[str, object]:  # noqa: ANN401 - what a report finds is looked at as it is told
    said = finding.words.said
    return {
        "change": finding.change.number,
        "trial": round(finding.effect.trial_mean, 4),
        "ordinary": round(finding.effect.ordinary_mean, 4),
        "effect": round(finding.effect.estimate, 4),
        "verdict": said(finding.verdict),
        "overall": said(finding.overall),
    }


def _play(room: Workroom, store: Store, folder: Path, event: str, inputs: Mapping[str, Any], day: Mapping[str, Any]) -> None:
    """Run one event, as the commands do."""
    terms = _file(folder, f"{event}.toml", inputs["terms"].replace("DAY", str(day["day"])))
    book = str(day["book"]).replace("+trial", f"+{folder / 'trial.toml'}")
    begin_event(store, _HAND, event, room.event_terms(terms), (book, room.book(book)))
    groups = _file(folder, "groups.csv", inputs["groups"])
    enter_players(store, _HAND, room.event(store, event), room.entries(groups, room.event(store, event)).entries)
    asked = DrawAsked(by=drawn_by("list"), seed="", listed=room.draw_list(groups))
    draw_field(store, _HAND, room.event(store, event), asked)
    give_times(store, _HAND, room.event(store, event), None)
    for player, hole, strokes, says in day["rulings"]:
        log_ruling(store, _HAND, room.event(store, event), RulingAsked(player=player, hole=hole, strokes=strokes, says=says))
    read = room.day_log(_file(folder, f"{event}-log.csv", day["observed"]))
    keep_log(store, _HAND, room.event(store, event), read, "log.csv")
    opened = room.event(store, event)
    cards = room.returned_cards(_file(folder, f"{event}-cards.csv", day["cards"]), opened).cards
    take_cards(store, _HAND, opened, cards, "cards.csv")


def _file(folder: Path, name: str, text: object) -> Path:
    path = folder / name
    path.write_text(str(text), encoding="utf-8")
    return path


ADAPTERS = (Adapter(topic="event_records_by_hand", inputs=frozenset({"trial", "terms", "groups", "days"}), work_out=_work_out),)
