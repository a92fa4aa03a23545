"""Every reader of files: its seeds, how they are struck, and how a file is read as a command reads it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from random import Random

from marram.answers.handicaps.handicap_index_answer import index_answers
from marram.answers.shape import json_text
from marram.answers.trials.plan_answer import trial_plan_answer
from marram.core.terms import FeatureKind
from marram.course.course import Course
from marram.course.day import with_day
from marram.course.numbering.numbers import number_holes
from marram.interchange.books.book_files import overlay_of
from marram.interchange.books.rule_sheet import read_rule_sheet
from marram.interchange.courses.course_geojson import parse_course, read_course, write_course
from marram.interchange.courses.hole_location_sheet import read_hole_locations
from marram.interchange.courses.hole_table import read_holes
from marram.interchange.courses.imported import Imported
from marram.interchange.courses.stake_walk import Closing, Walked, add_stake_walk
from marram.interchange.courses.tee_sheet import read_tee_sheet
from marram.interchange.field.day_file import read_day
from marram.interchange.field.incident_file import read_incident
from marram.interchange.field.trial_records import read_records
from marram.interchange.maps.foreign_geojson import Foreign, read_foreign_geojson
from marram.interchange.maps.foreign_terms import read_terms
from marram.interchange.maps.map_import import MapOptions, import_map
from marram.office.handicaps.find_index import find_index
from marram.office.trials.designs.design_names import DesignName
from marram.office.trials.designs.known_designs import design_of, plan_by_design
from marram.office.trials.designs.trial_design import AskedPlan
from marram.office.trials.plan_trial import plan_trial
from marram.office.trials.planned_trial import Spread
from marram.office.workroom import Workroom
from marram.records.rows import TrialRecords
from marram.rulebook import open_book, packaged_catalogue
from marram.rulebook.book import Book
from marram.rulebook.overlays.overlay import Overlay, read_overlay
from marram.rulings.case.facts_of_situation import known_facts
from tests.fuzz import event_readers as of_events
from tests.fuzz import seeds
from tests.fuzz.mutations import JSON, TEXT, struck
from tests.fuzz.packed import of_pbf, of_workbook

Strike = Callable[[Random, bytes], bytes]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reader:
    """One reader of files.

    Attributes:
        ending: How the names of its files end.
        seeds: Makes the sound files.
        strike: Damages one.
        read: Reads a file.
    """

    ending: str
    seeds: Callable[[], Sequence[bytes]]
    strike: Strike
    read: Callable[[Path], object]


def _text(random: Random, data: bytes) -> bytes:
    return struck(random, data, TEXT)


def _json(random: Random, data: bytes) -> bytes:
    return struck(random, data, JSON)


@cache
def course() -> Course:
    return read_course(seeds.COURSE)


@cache
def book() -> Book:
    return open_book("2023", [], packaged_catalogue())


@cache
def trial() -> Overlay:
    return read_overlay(seeds.TRIAL.read_text(encoding="utf-8"), name="four-changes", catalogue=packaged_catalogue())


def _kept(made: Course) -> None:
    """A course that was read or made is written, and what is written can be read."""
    written = write_course(made)
    written.encode()
    assert write_course(parse_course(written, where="written.geojson")) == written


def _imported(made: Imported) -> None:
    _kept(made.course)


def _read_foreign(path: Path) -> None:
    terms = read_terms(("kind=art", "holes=loch", "width_m=wide", "radius_m=r"), ("edge=boundary",))
    _imported(read_foreign_geojson(path, Foreign(terms=terms)))


def _read_walk(path: Path) -> None:
    names = {Closing.RING: "walked", Closing.TO_BOUNDARY: "along"}
    way = Closing.TO_BOUNDARY if path.stat().st_size % 3 == 0 else Closing.RING
    _imported(add_stake_walk(course(), path, Walked(kind=FeatureKind.BUNKER, id=names[way], close=way)))


def _read_incident(path: Path) -> None:
    read_incident(path, course(), known_facts=known_facts(packaged_catalogue()))


def _read_day(path: Path) -> None:
    _kept(with_day(course(), read_day(path, course())))


def _read_holes(path: Path) -> None:
    _kept(number_holes(course(), read_holes(path), draws_lines=True).course)


def _read_overlay(path: Path) -> None:
    overlay = overlay_of(str(path))
    for edition in overlay.on[:1]:
        open_book(edition, [overlay], packaged_catalogue())


def _read_days(path: Path) -> None:
    values = path.with_name("values-beside.csv")
    values.write_bytes(seeds.VALUES)
    read_records(path, values, trial()).pairs()


def _read_values(path: Path) -> None:
    days = path.with_name("days-beside.csv")
    days.write_bytes(seeds.DAYS)
    read_records(days, path, trial()).pairs()


def _read_both(path: Path) -> None:
    read_records(path, path, trial()).pairs()


def _plan(random: Random, data: bytes) -> bytes:
    """A plan that is damaged, and stamped anew half the time, so that the damage is not found by the stamp alone."""
    changed = struck(random, data, JSON)
    try:
        content = json.loads(changed)
        schema = {"schema": content.pop("schema")} if "schema" in content else {}
        content.pop("plan_stamp")
        frozen = json.dumps(content, sort_keys=True, ensure_ascii=False, indent=1)
        digest = hashlib.sha256(frozen.encode()).hexdigest()
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError):
        return changed
    return changed if random.random() < 0.5 else json.dumps(content | schema | {"plan_stamp": f"{digest[:4]} {digest[4:8]}"}).encode()


def _plans() -> Sequence[bytes]:
    spread = Spread(sd={"search_s": 9.0, "relief_s": 5.0, "rulings": 0.2}, met={}, players=60)
    made = plan_trial(trial(), spread, pairs=12, seed="a seed", left_out=frozenset({4}))
    asked = AskedPlan(seed="a seed", days=3, groups=60, left_out=frozenset({1, 3, 4}))
    drawn = [plan_by_design(trial(), spread, asked, name) for name in (DesignName.CROSS_OVER, DesignName.GROUPS)]
    return tuple(json_text(trial_plan_answer(plan)).encode() for plan in (made, *drawn))


@cache
def _records() -> TrialRecords:
    return read_records(seeds.ROOT / "examples/season/days.csv", seeds.ROOT / "examples/season/values.csv", trial())


def _read_plan(path: Path) -> None:
    frozen = Workroom().plan(path)
    design_of(frozen, _records()).departures(frozen, _records())


def _sheet_rows() -> bytes:
    row = "search.limit_min,3,2,Quicker,Less waiting,search_s,down,15,strokes,1.5,Was it enough?,unofficial only\n"
    return (seeds.SHEET + row + "relief.lateral.size,2 club-lengths,4 club-lengths,Wider,,,,,,,,\n").encode()


def _workbooks(*tables: tuple[str, bytes]) -> Callable[[], Sequence[bytes]]:
    return cache(lambda: (seeds.workbook(*tables),))


def _read_scores(path: Path) -> object:
    """A record of scores, followed to its end under every edition."""
    room = Workroom()
    books = room.handicap_books(("2024", "2020"))
    return json_text(index_answers(find_index(books, room.handicap_record(path, books, date(2026, 1, 1)))))


READERS: dict[str, Reader] = {
    "event-terms": Reader(ending=".toml", seeds=lambda: (of_events.TERMS,), strike=_text, read=of_events.read_event_terms),
    "event-entries": Reader(ending=".csv", seeds=lambda: (of_events.ENTRIES,), strike=_text, read=of_events.read_entries),
    "event-entries-workbook": Reader(
        ending=".xlsx", seeds=_workbooks(("entries", of_events.ENTRIES)), strike=of_workbook, read=of_events.read_entries
    ),
    "event-cards": Reader(ending=".csv", seeds=lambda: (of_events.CARDS,), strike=_text, read=of_events.read_cards),
    "event-list": Reader(ending=".csv", seeds=lambda: (of_events.LISTED,), strike=_text, read=of_events.read_list),
    "event-store": Reader(
        ending=".sqlite", seeds=lambda: (of_events.store_bytes(),), strike=of_events.strike_bytes, read=of_events.read_store
    ),
    "scores": Reader(ending=".csv", seeds=lambda: (seeds.SCORES,), strike=_text, read=_read_scores),
    "scores-workbook": Reader(ending=".xlsx", seeds=_workbooks(("scores", seeds.SCORES)), strike=of_workbook, read=_read_scores),
    "map-xml": Reader(
        ending=".osm", seeds=lambda: (seeds.map_data(".osm"),), strike=_text, read=lambda path: _imported(import_map(path, MapOptions()))
    ),
    "map-pbf": Reader(
        ending=".osm.pbf",
        seeds=lambda: (seeds.map_data(".osm.pbf"),),
        strike=of_pbf,
        read=lambda path: _imported(import_map(path, MapOptions(draws_lines=True))),
    ),
    "course": Reader(
        ending=".geojson", seeds=lambda: (seeds.COURSE.read_bytes(),), strike=_json, read=lambda path: _kept(read_course(path))
    ),
    "foreign": Reader(ending=".geojson", seeds=lambda: (seeds.FOREIGN,), strike=_json, read=_read_foreign),
    "walk-gpx": Reader(ending=".gpx", seeds=lambda: (seeds.WALK_GPX,), strike=_text, read=_read_walk),
    "walk-table": Reader(ending=".csv", seeds=lambda: (seeds.WALK_TABLE, seeds.WALK_METRES), strike=_text, read=_read_walk),
    "walk-workbook": Reader(ending=".xlsx", seeds=_workbooks(("points", seeds.WALK_TABLE)), strike=of_workbook, read=_read_walk),
    "tees": Reader(ending=".csv", seeds=lambda: (seeds.TEES,), strike=_text, read=lambda path: _imported(read_tee_sheet(course(), path))),
    "tees-workbook": Reader(
        ending=".xlsx",
        seeds=_workbooks(("tees", seeds.TEES)),
        strike=of_workbook,
        read=lambda path: _imported(read_tee_sheet(course(), path)),
    ),
    "locations": Reader(
        ending=".csv", seeds=lambda: (seeds.LOCATIONS,), strike=_text, read=lambda path: _imported(read_hole_locations(course(), path))
    ),
    "locations-workbook": Reader(
        ending=".xlsx",
        seeds=_workbooks(("holes", seeds.LOCATIONS)),
        strike=of_workbook,
        read=lambda path: _imported(read_hole_locations(course(), path)),
    ),
    "holes": Reader(ending=".toml", seeds=lambda: (seeds.HOLES,), strike=_text, read=_read_holes),
    "day": Reader(ending=".toml", seeds=lambda: (seeds.DAY,), strike=_text, read=_read_day),
    "incident": Reader(ending=".toml", seeds=lambda: (seeds.INCIDENT,), strike=_text, read=_read_incident),
    "trial": Reader(ending=".toml", seeds=lambda: (seeds.TRIAL.read_bytes(), seeds.ADDING.read_bytes()), strike=_text, read=_read_overlay),
    "rule-sheet": Reader(ending=".csv", seeds=lambda: (_sheet_rows(),), strike=_text, read=lambda path: read_rule_sheet(path, book())),
    "rule-sheet-workbook": Reader(
        ending=".xlsx",
        seeds=_workbooks(("rules", _sheet_rows())),
        strike=of_workbook,
        read=lambda path: read_rule_sheet(path, book()),
    ),
    "days": Reader(ending=".csv", seeds=lambda: (seeds.DAYS,), strike=_text, read=_read_days),
    "values": Reader(ending=".csv", seeds=lambda: (seeds.VALUES,), strike=_text, read=_read_values),
    "records-workbook": Reader(
        ending=".xlsx", seeds=_workbooks(("days", seeds.DAYS), ("values", seeds.VALUES)), strike=of_workbook, read=_read_both
    ),
    "plan": Reader(ending=".json", seeds=cache(_plans), strike=_plan, read=_read_plan),
}
