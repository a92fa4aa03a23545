"""The rule command as outsiders run it: JSON, exit codes, and bad input."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from marram.interchange.courses.course_geojson import write_course
from marram.rulebook import packaged_catalogue
from tests.support.ground import course, pond
from tests.support.running import ROOT, marram, marram_process

COURSE = "examples/courses/thimble-moor.geojson"
GOOD = (ROOT / "examples/incidents/pond-7.toml").read_text(encoding="utf-8")
PLACE = next(line for line in GOOD.splitlines() if line.startswith("ball"))
CROSSED = next(line for line in GOOD.splitlines() if line.startswith("crossed_at"))


def test_json_is_one_object_and_equal_twice() -> None:
    words = ("rule", "examples/incidents/pond-7.toml", "--course", COURSE, "--json")
    first, second = marram_process(*words), marram(*words)
    assert first.returncode == 0
    assert first.stdout == second.stdout
    answer = json.loads(first.stdout)
    assert [book["book"] for book in answer["books"]] == list(packaged_catalogue().editions)
    for book in answer["books"]:
        assert all(line["citations"] for line in book["lines"])
        assert all(option["citations"] for option in book["options"])


def test_where_the_ball_was_played_is_measured_to_the_nearest_right_place(tmp_path: Path) -> None:
    incident = tmp_path / "played.toml"
    incident.write_text(GOOD.replace(CROSSED, f"{CROSSED}\nplayed_from = {{ x_m = -390, y_m = 105 }}"), encoding="utf-8")
    done = marram("rule", str(incident), "--course", COURSE, "--book", "2023", "--json")
    assert done.returncode == 0, done.stderr
    (book,) = json.loads(done.stdout)["books"]
    measured = [entry["distance_m"] for entry in book["played_from"]["nearest_right_place"]]
    assert measured == sorted(measured)
    assert measured[0] > 0
    assert [act["act"] for act in book["played_from"]["acts"]] == ["wrong-place-minor", "wrong-place-serious"]
    told = marram("rule", str(incident), "--course", COURSE, "--book", "2023").stdout
    assert "for the official and the Committee to say" in told
    assert told.rstrip().endswith("the Committee decide.")


def test_the_form_of_play_says_how_the_ruling_reads(tmp_path: Path) -> None:
    incident = tmp_path / "form.toml"
    incident.write_text(GOOD.replace("situation =", 'form = "stableford"\nsituation ='), encoding="utf-8")
    done = marram("rule", str(incident), "--course", COURSE, "--book", "2023", "--json")
    assert done.returncode == 0, done.stderr
    (book,) = json.loads(done.stdout)["books"]
    assert {"picked_up": "no-points"} in [line["values"] for line in book["form_of_play"]["lines"]]
    assert "In stableford" in marram("rule", str(incident), "--course", COURSE, "--book", "2023").stdout


def test_every_example_is_ruled_on_and_drawn(tmp_path: Path) -> None:
    for incident in sorted((ROOT / "examples/incidents").glob("*.toml")):
        drawing = tmp_path / f"{incident.stem}.svg"
        trial = "2023+examples/trials/fixed-lengths.toml"
        done = marram("rule", str(incident), "--course", COURSE, "--book", "2019", "--book", trial, "--draw", str(drawing))
        assert done.returncode == 0, done.stderr
        assert drawing.read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        ("", 2, "empty"),
        ("hole = ", 2, "not TOML"),
        (GOOD + "\ncolour = 3\n", 2, "colour"),
        (GOOD.replace("hole = 7", "hole = 19"), 2, "no hole 19"),
        (GOOD.replace("longest_club_in = 45", "longest_club_in = 400"), 2, "48"),
        (GOOD.replace(CROSSED, "crossed_at = { x_m = -376.9, y_m = 40 }"), 2, "from the edge"),
        (GOOD.replace(PLACE, "ball = { at = [55.311, -2.476] }"), 2, "swapped"),
        (GOOD.replace(PLACE, "ball = { x_m = 900, y_m = 0 }"), 2, "outside the boundary"),
        (GOOD.replace(PLACE, "ball = { lost = true, x_m = 1 }"), 2, "exactly one way"),
        (GOOD.replace("penalty-area", "swamp"), 2, "no situation"),
        ('hole = 9\nsituation = "penalty-area"\nball = { x_m = -152.66, y_m = -114.55 }\n', 3, "last cross"),
    ],
)
def test_bad_incidents_get_one_clear_message(tmp_path: Path, text: str, code: int, words: str) -> None:
    incident, drawing = tmp_path / "incident.toml", tmp_path / "out.svg"
    incident.write_text(text, encoding="utf-8")
    done = marram("rule", str(incident), "--course", COURSE, "--draw", str(drawing), "--json")
    assert done.returncode == code, done.stdout + done.stderr
    error = json.loads(done.stdout)["error"]
    assert words in error["message"] + error["hint"]
    assert "Traceback" not in done.stderr
    assert not drawing.exists()


def test_huge_file_is_refused_by_its_size(tmp_path: Path) -> None:
    big = tmp_path / "big.toml"
    with big.open("wb") as file:
        file.truncate(3 * 1024 * 1024 * 1024)
    done = marram("rule", str(big), "--course", COURSE)
    assert done.returncode == 2
    assert "may hold 1 MB" in done.stderr


@pytest.mark.parametrize("words", [("list",), ("show", "search.limit_min"), ("compare", "2016", "2019"), ("audit",)])
def test_book_commands_answer(words: tuple[str, ...]) -> None:
    assert marram("book", *words).returncode == 0
    assert isinstance(json.loads(marram("book", *words, "--json").stdout), dict)


BADFILES = ROOT / "tests/badfiles"
RIGHT = """
hole = 1
situation = "penalty-area"
ball = { x_m = 0.0, y_m = -55.0 }
[player]
hand = "right"
longest_club_in = 45
[facts]
crossed_at = { x_m = -15.0, y_m = -60.0 }
"""
MISTAKES = {
    "back-before-zero": ("back_m", "at least 0"),
    "ball-as-text": ("ball", "Text in quotes", "table"),
    "ball-far-away": ("km from the middle of Test Ground",),
    "ball-outside": ("600.0 m outside the boundary of Test Ground", "out-of-bounds"),
    "ball-twice": ("exactly one way",),
    "broken": ("not TOML", "line 2"),
    "club-400-in": ("longest_club_in", "48"),
    "club-not-a-number": ("longest_club_in",),
    "crossing-30-m-off": ("30.0 m from the edge of the penalty area", "facts.crossed_at"),
    "empty": ("The file is empty", "an incident"),
    "flight-misses": ("does not cross the edge", "facts.flight"),
    "hole-19": ("no hole 19", "It has 1"),
    "hole-zero": ("hole", "at least 1"),
    "no-ball": ("ball", "missing"),
    "no-such-form": ("form", "skins"),
    "no-such-situation": ("swamp", "Known: penalty-area"),
    "not-utf-8": ("not UTF-8", "byte 21"),
    "ring-crosses-itself": ("no sound outline", "conditions 1"),
    "swapped": ("look swapped", "[-2, 54.9995]"),
    "third-hand": ("hand", "both"),
    "unknown-fact": ("it_rained", "Known: ", "crossed_at"),
    "unknown-key": ("colour",),
}


@pytest.fixture(scope="module")
def small_course(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A course file with one hole and a red pond."""
    path = tmp_path_factory.mktemp("course") / "test-ground.geojson"
    path.write_text(write_course(course(pond())), encoding="utf-8")
    return str(path)


def keys_are_sorted(answer: object) -> bool:
    """Whether the members of every object stand in order."""
    if isinstance(answer, dict):
        return list(answer) == sorted(answer) and all(keys_are_sorted(value) for value in answer.values())
    return not isinstance(answer, list) or all(keys_are_sorted(value) for value in answer)


def test_the_right_incident_is_ruled_on_and_drawn(tmp_path: Path, small_course: str) -> None:
    """The mistakes below are each this file with one thing wrong."""
    incident, drawing = tmp_path / "right.toml", tmp_path / "out.svg"
    incident.write_text(RIGHT, encoding="utf-8")
    runs = [marram("rule", str(incident), "--course", small_course, "--draw", str(drawing), "--json") for _ in range(2)]
    assert [run.returncode for run in runs] == [0, 0], runs[0].stderr
    assert runs[0].stdout == runs[1].stdout
    assert keys_are_sorted(json.loads(runs[0].stdout))
    assert drawing.exists()
    assert [path.name for path in tmp_path.iterdir() if path.name.endswith(".part")] == []


def test_every_bad_file_has_a_test() -> None:
    assert {path.stem for path in BADFILES.iterdir()} == MISTAKES.keys() | {"not-known-yet"}


@pytest.mark.parametrize("name", MISTAKES)
def test_a_mistake_is_told_and_leaves_nothing_behind(tmp_path: Path, small_course: str, name: str) -> None:
    words = ("rule", str(BADFILES / f"{name}.toml"), "--course", small_course, "--draw", str(tmp_path / "out.svg"))
    plain, as_json = marram(*words), marram(*words, "--json")
    assert (plain.returncode, as_json.returncode) == (2, 2)
    assert plain.stdout == ""
    assert plain.stderr.startswith("marram: ")
    error = json.loads(as_json.stdout)["error"]
    for told in (plain.stderr, f"{error['where']} {error['message']} {error['hint']}"):
        assert all(word in told for word in MISTAKES[name]), told
    assert "Traceback" not in plain.stderr + as_json.stderr
    assert list(tmp_path.iterdir()) == []


def test_an_incident_that_cannot_be_ruled_on_yet_asks_and_says_so_by_its_code(tmp_path: Path, small_course: str) -> None:
    words = ("rule", str(BADFILES / "not-known-yet.toml"), "--course", small_course, "--draw", str(tmp_path / "out.svg"))
    plain, as_json = marram(*words), marram(*words, "--json")
    assert (plain.returncode, as_json.returncode) == (3, 3)
    error = json.loads(as_json.stdout)["error"]
    assert error["code"] == "facts_needed"
    assert {entry["fact"] for entry in error["facts_needed"]} == {"crossed_at", "previous_stroke"}
    assert all(entry["question"].endswith("?") and entry["question"] in plain.stderr for entry in error["facts_needed"])
    assert "(crossed-at)" in plain.stderr
    assert "crossed_at" not in plain.stderr
    assert "Traceback" not in plain.stderr + as_json.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (("--book", "1950"), "no such edition"),
        (("--book", "2023+nowhere.toml"), "no such file"),
        (("--draw", "no/such/folder/out.svg"), "cannot be written"),
        (("--course", "nowhere.geojson"), "no such file"),
        (("--course", "."), "a folder"),
        (("--course", "tests/badfiles/empty.toml"), "empty"),
        (("--course", "tests/badfiles/broken.toml"), "not JSON"),
        (("--colour",), "No such option"),
    ],
)
def test_a_command_that_cannot_be_carried_out_is_told(tmp_path: Path, small_course: str, more: tuple[str, ...], told: str) -> None:
    incident = tmp_path / "right.toml"
    incident.write_text(RIGHT, encoding="utf-8")
    done = marram("rule", str(incident), "--course", small_course, *more)
    assert done.returncode == 2
    assert told in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_facts_are_forgiven_their_hyphens_and_told_where_a_book_does_not_read_them(tmp_path: Path) -> None:
    incident = tmp_path / "incident.toml"
    facts = '[facts]\nSearch-time-ended = true\ngone_forward_to_search = false\nprevious-stroke = { area = "teeing-area" }\n'
    incident.write_text('hole = 4\nsituation = "provisional"\nball = { lost = true }\n' + facts, encoding="utf-8")
    done = marram("rule", str(incident), "--course", COURSE, "--book", "2016", "--book", "2023", "--json")
    assert done.returncode == 0, done.stderr
    assert [book["facts_not_read"] for book in json.loads(done.stdout)["books"]] == [[], ["gone_forward_to_search"]]
    told = marram("rule", str(incident), "--course", COURSE, "--book", "2023").stdout
    assert "2023 does not read: gone-forward-to-search." in told


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ("serch_time_ended = true", "Nearest: search_time_ended"),
        ("search_time_ended = true\nsearch-time-ended = false", "search_time_ended is stated true and false"),
        ("embedded = true\ntrodden_in = true", "embedded and trodden-in cannot both be true"),
    ],
)
def test_facts_of_an_incident_that_cannot_be_used_are_refused_in_words(tmp_path: Path, facts: str, words: str) -> None:
    incident = tmp_path / "incident.toml"
    incident.write_text(GOOD.replace(CROSSED, f"{CROSSED}\n{facts}"), encoding="utf-8")
    done = marram("rule", str(incident), "--course", COURSE, "--json")
    assert done.returncode == 2
    error = json.loads(done.stdout)["error"]
    assert words in error["message"] + error["hint"]


def test_the_schema_of_an_incident_is_printed() -> None:
    done = marram("rule", "--schema")
    assert done.returncode == 0, done.stderr
    incident = json.loads(done.stdout)["$defs"]["IncidentTable"]
    assert {"hole", "situation", "ball", "facts", "choice", "conditions"} <= set(incident["properties"])
    assert incident["properties"]["facts"]["additionalProperties"]["type"] == ["boolean", "array", "object", "string"]
