"""Every option that a command documents is run by a test: by one of its command, or by a case below."""

from __future__ import annotations

import io
import json
import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import click
import pytest

from marram.cli.main import marram as group
from tests.support.documents import commands, run_day
from tests.support.running import ROOT, marram

COURSE, TRIAL, POND = "examples/courses/thimble-moor.geojson", "examples/trials/four-changes.toml", "examples/incidents/pond-7.toml"
CARDS = ("examples/cards/cards.csv", "--terms", "examples/cards/stableford.toml", "--book", "2023")
SEASON = tuple(word for name in ("days", "values", "asked") for word in (f"--{name}", f"examples/season/{name}.csv"))
TEES = ("--index", "12.4", "--slope", "128", "--rating", "71.4", "--par", "72")
PLAYER = ("--hand", "left", "--longest-club", "44.5", "--club", "wedge")
NEW = ("--on", "2023", "--title", "A trial", "--dated", "2026-03-01")
INDEXES = ",".join(map(str, range(1, 19)))
SHORT = ("--days", "20", "--players", "8", "--interval", "10", "--seed", "2026")

CASES: tuple[tuple[int, str, tuple[str, ...]], ...] = (
    (0, "rule", (POND, "--course", COURSE, "--book", "2023", "--draw", "OUT/ruling.svg", "--replace")),
    (0, "search", ("--book", "2023", "--list")),
    (0, "score", (*CARDS, "-o", "OUT/scores.csv", "--replace", "--sources")),
    (0, "handicap course", (*TEES, "--sources")),
    (0, "handicap playing", (*TEES, "--format", "stroke-play", "--sources")),
    (0, "handicap strokes", ("--handicap", "12", "--stroke-index", INDEXES, "--sources")),
    (
        0,
        "handicap net-double-bogey",
        ("--handicap", "12", "--stroke-index", INDEXES, "--par", "4" + ",4" * 17, "--gross", "5" + ",5" * 17, "--sources"),
    ),
    (0, "handicap differential", ("--gross", "85", "--rating", "71.4", "--slope", "128", "--sources")),
    (0, "handicap index", ("examples/handicaps/record.csv", "--on", "2027-01-01", "--sources")),
    (0, "handicap accept", ("--played", "18", "--sources")),
    (0, "handicap most-likely", ("--taken", "3", "--distance", "4ft", "--sources")),
    (0, "handicap slope", ("--rating", "71.4", "--bogey-rating", "95.1", "--for", "men", "--sources")),
    (1, "course marking", (COURSE, "--book", "2023", "--draw", "OUT/marking", "--replace")),
    (0, "course places", (COURSE, "--procedure", "penalty-area-lateral-red", "--count", "1", "--draw", "OUT/places", "--replace", *PLAYER)),
    (130, "trial new", (*NEW, "-o", "OUT/new.toml", "--replace")),
    (0, "trial outcomes", ("--json",)),
    (0, "trial papers", (TRIAL, "-o", "OUT/papers.pdf", "--replace")),
    (0, "sheet relief", ("--book", "2023", "-o", "OUT/relief.pdf", "--replace")),
    (0, "book list", ("--local-rules",)),
    (0, "book export", ("--book", "2023", "-o", "OUT/book.xlsx", "--replace")),
    (
        0,
        "forecast",
        (
            TRIAL,
            "--course",
            COURSE,
            *SHORT,
            "--group-size",
            "4",
            "--proposed-interval",
            "11",
            "--start-from",
            "one-tee",
            "--call-up",
            "--independent-draws",
            "--records",
            "OUT/season",
            "--pairs",
            "10",
            "--replace",
        ),
    ),
)
"""How each case ends, its command and the words after that; OUT is the folder that is written to."""
NEITHER = ("--fact", "moving-in-water=false", "--fact", "not-put-right-in-time=false")
TARN = ("--kind", "penalty-area", "--id", "tarn", "--mark", "red", "--close", "ring")
WALKED = ("--as", "walk", "--onto", COURSE, "-o", "OUT/walked.geojson")
SPREAD = ("--sd", "search_s=9", "--sd", "relief_s=5", "--sd", "rulings=0.2", "--leave-out", "4", "--seed", "three-firths-2026")
SHEETS = ("-o", "OUT/sheets", "--replace")
LENGTHS = "examples/trials/fixed-lengths.toml"
MORE_CASES: tuple[tuple[int, str, tuple[str, ...]], ...] = (
    (0, "course import", ("tests/data/courses/iom-parkland-18-ponds.osm", "-o", "OUT/map.geojson", "--outline", "relation/945140")),
    (
        0,
        "course import",
        ("OUT/ring.csv", *WALKED, *TARN, "--what", "tarn"),
    ),
    (0, "course import", ("OUT/ring.csv", *WALKED, "--kind", "immovable-obstruction", "--id", "walk", "--what", "path", "--width-m", "2")),
    (0, "course import", ("OUT/point.csv", *WALKED, "--kind", "ground-under-repair", "--id", "scrape", "--radius-m", "3")),
    (
        0,
        "course import",
        ("OUT/two.gpx", *WALKED, *TARN, "--track", "second"),
    ),
    (0, "course import", ("OUT/paces.csv", "--as", "hole-locations", "--onto", COURSE, "-o", "OUT/c.geojson", "--pace-m", "0.8")),
    (2, "drop", ("--chances", "--book", "2023", "--count", "500", "--field", "OUT/ring.csv")),
    (0, "book export", ("--book", "2023", "-o", "OUT/book.xlsx")),
    (2, "trial from-sheet", ("OUT/book.xlsx", *NEW, "-o", "OUT/from.toml", "--replace")),
    (0, "trial plan", (TRIAL, *SPREAD, "--pairs", "14", "--looks", "2", "--bounds", "level", "-o", "OUT/plan.json")),
    (0, "trial plan", (TRIAL, *SPREAD, "--within-a-day", "-o", "OUT/plan.json", "--replace")),
    (4, "trial plan", (TRIAL, *SPREAD, "--from-forecast", "OUT/ring.csv", "-o", "OUT/plan.json", "--replace")),
    (0, "trial report", (TRIAL, *SEASON, "-o", "OUT/report.html", "--replace")),
    (0, "trial guide", (LENGTHS, "--course", COURSE, "--on", "2023", "--form", "phone", "--each", "1", "-o", "OUT/guide", *PLAYER)),
    (
        0,
        "sheet procedure",
        ("penalty-area-lateral-red", "--course", COURSE, "--book", "2023", "--form", "phone", *SHEETS, *PLAYER),
    ),
)
CLOSED = ("--after-closing", "committee-mistake")
EVENT = ("--event", "thimble-moor-summer-stableford", "--store", "STORE", "--who", "Rowan")
EVENT_CASES: tuple[tuple[int, str, tuple[str, ...]], ...] = (
    (0, "act", ("wrong-ball", "--player", "Alder", "--hole", "4", "--round", "1", *NEITHER, "--store", "STORE", "--who", "Rowan")),
    (0, "event times", ("-o", "OUT/times.csv", "--replace", *EVENT, "--reason", "fog")),
    (0, "event print", ("cards", "-o", "OUT/cards.pdf", "--replace", "--store", "STORE")),
    (0, "event results", ("-o", "OUT/results.csv", "--replace", "--store", "STORE")),
    (0, "event rounds", ("-o", "OUT/rounds.csv", "--replace", "--store", "STORE")),
    (0, "event observe", ("search", "--player", "Alder", "--hole", "4", "--value", "search_s=2:35", "--say", "says=in the trees", *EVENT)),
    (0, "event watch", ("searches", "--group", "1", "--round", "1", *EVENT)),
    (0, "event pace", ("--round", "1", *EVENT)),
    (0, "event enquire", ("May I lift a stake?", "--asked-by", "a player", *EVENT)),
    (
        0,
        "event two-balls",
        (
            "Alder",
            "--hole",
            "4",
            "--first",
            "5",
            "--second",
            "6",
            "--not-reported",
            "--round",
            "1",
            "--after-closing",
            "committee-mistake",
            *EVENT,
        ),
    ),
    (0, "event marker", ("Alder", "--by", "Aspen", "--round", "1", *EVENT, "--reason", "late")),
    (0, "event regroup", ("Alder", "--to", "2", "--round", "1", *EVENT, "--reason", "late")),
    (0, "event shorten", ("--holes", "1-9", "--after-closing", "committee-mistake", *EVENT, "--reason", "dark")),
    (3, "event cut", ("--places", "4", "--ties", "in", "--within", "5", "--rule", "four play on", *EVENT)),
    (3, "event play-off", ("Alder", "Aspen", "--by", "lot", "--after-closing", "committee-mistake", *EVENT)),
    (3, "event bracket", ("--by", "entry", *EVENT)),
    (3, "event match", ("Alder", "--beats", "Aspen", "--by", "2 up", "--after-closing", "committee-mistake", *EVENT)),
    (0, "event season", ("--course", COURSE, "--draw", "OUT/season.svg", "--replace", "--store", "STORE")),
    (3, "event records", ("--trial", TRIAL, "-o", "OUT/records", "--replace", "--store", "STORE", "--who", "Rowan")),
)
"""The same over a store that holds a day of play."""
LEFT: dict[str, str] = {"desk --open": "opens a browser on the machine that runs it"}
"""Options that no test can run, with the reason."""


def options(command: click.Command) -> Iterator[tuple[str, ...]]:
    """Each option by its spellings; one with a way to say no counts as two."""
    for each in command.params:
        if isinstance(each, click.Option):
            yield tuple(each.opts)
            if each.secondary_opts:
                yield tuple(each.secondary_opts)


@cache
def texts() -> tuple[str, ...]:
    """The tests, this one left out."""
    return tuple(path.read_text(encoding="utf-8") for path in sorted((ROOT / "tests").rglob("*.py")) if path != Path(__file__))


def of_command(name: str) -> list[str]:
    """The tests that run a command: its last word stands there as a word of its own, or its whole name."""
    last = name.rsplit(maxsplit=1)[-1]
    return [text for text in texts() if f'"{last}"' in text or name in text]


def is_run(name: str, spellings: tuple[str, ...]) -> bool:
    if any(command == name and not set(words).isdisjoint(spellings) for _, command, words in (*CASES, *MORE_CASES, *EVENT_CASES)):
        return True
    said = [form for each in spellings for form in (f'"{each}"', f'"{each}=', f" {each} ", f"'{each}'")]
    return any(form in text for text in of_command(name) for form in said)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case[1])
def test_a_case_ends_as_it_should(case: tuple[int, str, tuple[str, ...]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    code, command, words = case
    monkeypatch.setattr("sys.stdin", io.StringIO())  # whoever is asked says nothing, which stops the command
    done = marram(*command.split(), *(word.replace("OUT", str(tmp_path), 1) if word.startswith("OUT/") else word for word in words))
    assert done.returncode == code, done.stderr
    assert "Traceback" not in done.stderr


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with walks of the demo course, in metres of its frame and as tracks of a receiver."""
    made = tmp_path_factory.mktemp("sources")
    lon, lat = json.loads((ROOT / COURSE).read_text(encoding="utf-8"))["course"]["origin"]
    corners = ((0, 0), (30, 0), (30, 20), (0, 20))
    (made / "ring.csv").write_text("x_m,y_m\n" + "".join(f"{x},{y}\n" for x, y in corners), encoding="utf-8")
    (made / "point.csv").write_text("x_m,y_m\n5,5\n", encoding="utf-8")
    (made / "paces.csv").write_text("hole,on_paces,left_paces\n7,12,3\n", encoding="utf-8")
    points = "".join(f'<trkpt lat="{lat + y / 111_000:.7f}" lon="{lon + x / 64_000:.7f}"/>' for x, y in corners)
    tracks = "".join(f"<trk><name>{name}</name><trkseg>{points}</trkseg></trk>" for name in ("first", "second"))
    head = '<gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1">'
    (made / "two.gpx").write_text(f"{head}{tracks}</gpx>", encoding="utf-8")
    return made


@pytest.mark.parametrize("case", MORE_CASES, ids=lambda case: case[1])
def test_a_case_with_files_ends_as_it_should(case: tuple[int, str, tuple[str, ...]], folder: Path) -> None:
    code, command, words = case
    done = marram(*command.split(), *(word.replace("OUT", str(folder), 1) if word.startswith("OUT/") else word for word in words))
    assert done.returncode == code, done.stderr
    assert "Traceback" not in done.stderr


@pytest.fixture(scope="module")
def played(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with a day of play; each case has a copy of its own."""
    store = tmp_path_factory.mktemp("played") / "day.sqlite"
    run_day(store)
    return store


@pytest.mark.parametrize("case", EVENT_CASES, ids=lambda case: case[1])
def test_a_case_of_an_event_ends_as_it_should(case: tuple[int, str, tuple[str, ...]], played: Path, tmp_path: Path) -> None:
    code, command, words = case
    store = tmp_path / "day.sqlite"
    shutil.copy(played, store)
    told = [word.replace("OUT", str(tmp_path), 1) if word.startswith("OUT/") else str(store) if word == "STORE" else word for word in words]
    done = marram(*command.split(), *told)
    assert done.returncode == code, done.stderr
    assert "Traceback" not in done.stderr


def test_every_documented_option_is_run() -> None:
    named = [(name, spellings) for name, command in commands(group) for spellings in options(command)]
    missing = [f"{name} {spellings[0]}" for name, spellings in named if not is_run(name, spellings)]
    assert [each for each in missing if each not in LEFT] == [], missing
    assert len(named) > 500
