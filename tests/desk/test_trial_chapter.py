"""The chapter of trials: begun, written change by change, kept as the files of today, and nothing lost where two write at once."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from marram.desk.rulings.ruling_process import DeskAsked, open_desk
from marram.desk.server.desk_app import make_app
from marram.desk.server.guard import TOKEN, Door
from marram.office.drafts.offered_field import FieldKind, is_changeable, offer_field
from marram.office.trials.draft_trial import check_trial
from marram.office.workroom import Workroom
from marram.rulebook.catalogue import Catalogue
from marram.rulebook.overlays.overlay import read_overlay
from marram.rulebook.reading.files import packaged_catalogue
from tests.desk.conftest import AT, EXAMPLES, PORT, DoneHere

CATALOGUE: Catalogue = packaged_catalogue()
BOOK = Workroom().book("2023")
NAMES = ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "Übung & “Prüfung”", "{{ 7 * 7 }}"]


class Fields(HTMLParser):
    """The fields of the first form of a page that posts to an address, as a browser would send them."""

    def __init__(self, action: str) -> None:
        super().__init__()
        self.action, self.is_in, self.done = action, False, False
        self.fields: list[tuple[str, str]] = []
        self.select = self.area = ""
        self.options: list[tuple[str, bool]] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {name: value or "" for name, value in attrs}
        if tag == "form" and told.get("action") == self.action and not self.done:
            self.is_in = True
        if not self.is_in:
            return
        name = told.get("name", "")
        if tag == "input" and name and (told.get("type") not in {"radio", "checkbox"} or "checked" in told):
            self.fields.append((name, told.get("value", "")))
        elif tag == "select":
            self.select, self.options = name, []
        elif tag == "option" and self.select:
            self.options.append((told.get("value", ""), "selected" in told))
        elif tag == "textarea":
            self.area, self.text = name, ""

    def handle_data(self, data: str) -> None:
        if self.area:
            self.text += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "form" and self.is_in:
            self.is_in, self.done = False, True
        elif tag == "select" and self.select:
            chosen = [value for value, is_on in self.options if is_on] or [value for value, _ in self.options[:1]]
            self.fields += [(self.select, value) for value in chosen]
            self.select = ""
        elif tag == "textarea" and self.area:
            self.fields.append((self.area, self.text))
            self.area = ""


def fields_of(page: str, action: str = "/trial/keep") -> list[tuple[str, str]]:
    """What a browser would send with a form of a page."""
    parser = Fields(action)
    parser.feed(page)
    assert parser.done, f"no form to {action}"
    return parser.fields


def filled(fields: list[tuple[str, str]], **put: str | list[str]) -> dict[str, str | list[str]]:
    """The fields with others typed in, as the test client posts them; dots of names written as two underscores."""
    found: dict[str, str | list[str]] = {}
    for name, value in fields:
        held = found.get(name)
        found[name] = value if held is None else [*(held if isinstance(held, list) else [held]), value]
    return found | {name.replace("__", "."): value for name, value in put.items()}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the demo course and its trials."""
    for name in ("courses", "trials", "incidents"):
        shutil.copytree(EXAMPLES / name, tmp_path / name)
    return tmp_path


@pytest.fixture
def desk(folder: Path) -> Iterator[TestClient]:
    door = Door(port=PORT)
    made = TestClient(make_app(DoneHere(open_desk(DeskAsked(folder=folder))), door), base_url=AT, headers={"origin": AT})
    made.get("/", params={TOKEN: door.token}, follow_redirects=False)
    yield made


def begin(desk: TestClient, title: str = "Shorter searches", **more: str) -> str:
    """Begin a trial; gives the name of its file."""
    answer = desk.post("/trial/begin", data={"title": title, "on": "2023", "dated": "2026-03-01", "aims": "Less waiting.", **more})
    assert answer.status_code == 200, answer.text
    found = re.search(r"[?&]trial=([a-z0-9-]+)", str(answer.url))
    assert found is not None
    return found[1]


def add(desk: TestClient, name: str, key: str, **put: str | list[str]) -> str:
    """Add a change by its form; gives the page that answers."""
    page = desk.get("/trial", params={"trial": name, "key": key}).text
    answer = desk.post("/trial/keep", data=filled(fields_of(page), because="A reason.", **put))
    assert answer.status_code == 200, unescape(re.sub(r"<[^>]+>", " ", answer.text))
    return answer.text


def trial_text(folder: Path, name: str) -> str:
    return next(folder.rglob(f"{name}.toml")).read_text(encoding="utf-8")


def test_every_trial_of_the_folder_is_listed(desk: TestClient) -> None:
    page = desk.get("/trial").text
    for title in ("Trial of four changes", "Trial of fixed lengths", "Free relief from divot holes"):
        assert title in page


def test_an_empty_folder_says_what_to_do(tmp_path: Path) -> None:
    door = Door(port=PORT)
    made = TestClient(make_app(DoneHere(open_desk(DeskAsked(folder=tmp_path))), door), base_url=AT, headers={"origin": AT})
    made.get("/", params={TOKEN: door.token}, follow_redirects=False)
    page = made.get("/trial")
    assert page.status_code == 200
    assert "No trial yet" in page.text


def test_three_changes_are_written_from_nothing_without_script(desk: TestClient, folder: Path) -> None:
    name = begin(desk)
    found = desk.get("/trial", params={"trial": name, "find": "how long may a ball be looked for"}).text
    link = re.search(r'href="(/trial\?[^"]*key=search\.limit_min[^"]*)"', found)
    assert link is not None
    page = desk.get(unescape(link[1])).text
    assert "3 minutes" in page
    looked = desk.get("/trial", params=filled(fields_of(page), now="2"))
    assert "Two minutes instead of three" in looked.text
    wishes = {"aim": "Less waiting.", "asks": "Was it enough?", "outcome": "search_s", "matters": "15", "because": "Enough."}
    kept = desk.post("/trial/keep", data=filled(fields_of(looked.text), **wishes))
    assert "kept in its file" in kept.text
    add(desk, name, "relief.lateral.size", amount="1,5", unit="club-lengths")
    add(desk, name, "drop-height.height", now="shoulder")
    trial = read_overlay(trial_text(folder, name), name=name, catalogue=CATALOGUE)
    assert [change.key for change in trial.changes] == ["search.limit_min", "relief.lateral.size", "drop-height.height"]
    assert not [fault for fault in check_trial(trial) if fault.stops]
    assert not [fault for fault in check_trial(trial) if fault.change == 1]
    ruled = desk.get("/ruling", params={"book": f"2023+{name}", "hole": "5", "situation": "unplayable", "before": "60", "right": "0"})
    assert ruled.status_code == 200
    assert name in ruled.text


def test_what_was_filled_in_stands_in_the_address(desk: TestClient) -> None:
    page = desk.get("/trial", params={"trial": "four-changes", "change": "1"}).text
    typed = filled(fields_of(page), now="1", because="Half-said", asks="One?\nTwo?")
    again = desk.get("/trial", params=typed).text
    kept = dict(fields_of(again))
    assert (kept["now"], kept["because"], kept["asks"]) == ("1", "Half-said", "One?\nTwo?")
    assert kept == dict(fields_of(desk.get("/trial", params=filled(fields_of(again))).text))


def test_an_edit_keeps_remarks_and_every_other_line(desk: TestClient, folder: Path) -> None:
    before = trial_text(folder, "four-changes")
    page = desk.get("/trial", params={"trial": "four-changes", "change": "2"}).text
    assert desk.post("/trial/keep", data=filled(fields_of(page), because="Nobody needs to watch.")).status_code == 200
    after = trial_text(folder, "four-changes")
    assert after == before.replace("Nobody need watch from which height a ball falls.", "Nobody needs to watch.")


def test_opened_and_kept_unchanged_is_the_same_file(desk: TestClient, folder: Path) -> None:
    before = trial_text(folder, "four-changes")
    for number in "1234":
        page = desk.get("/trial", params={"trial": "four-changes", "change": number}).text
        assert desk.post("/trial/keep", data=filled(fields_of(page))).status_code == 200
    assert trial_text(folder, "four-changes") == before


# Two pages on one trial ------------------------------------------------------------------------------------------------


def test_two_tabs_on_one_change_show_both_and_lose_nothing(desk: TestClient, folder: Path) -> None:
    page = desk.get("/trial", params={"trial": "four-changes", "change": "1"}).text
    assert desk.post("/trial/keep", data=filled(fields_of(page), now="1", because="The first tab.")).status_code == 200
    other = desk.post("/trial/keep", data=filled(fields_of(page), now="4", because="The second tab."))
    assert other.status_code == 409
    assert "The first tab." in other.text
    assert "The second tab." in other.text
    assert "The first tab." in trial_text(folder, "four-changes")
    assert "The second tab." not in trial_text(folder, "four-changes")
    put = desk.post("/trial/keep", data=filled(fields_of(other.text)))
    assert put.status_code == 200
    assert "The second tab." in trial_text(folder, "four-changes")


def test_a_file_edited_by_hand_is_not_written_over(desk: TestClient, folder: Path) -> None:
    page = desk.get("/trial", params={"trial": "four-changes", "change": "3"}).text
    file = next(folder.rglob("four-changes.toml"))
    file.write_text(file.read_text(encoding="utf-8").replace("# An invented", "# By hand: an invented"), encoding="utf-8")
    for action, more in (("/trial/keep", {"because": "Mine."}), ("/trial/order", {"do": "out"}), ("/trial/head", {"title": "Mine"})):
        there = desk.get("/trial", params={"trial": "four-changes"}).text if action == "/trial/head" else page
        data = filled(fields_of(there, action), **more) | {"stamp": dict(fields_of(page))["stamp"]}
        answer = desk.post(action, data=data)
        assert answer.status_code == 409, action
        assert "Mine" in answer.text or more == {"do": "out"}
    assert file.read_text(encoding="utf-8").startswith("# By hand")
    assert "Mine" not in file.read_text(encoding="utf-8")


def test_a_change_that_moved_meanwhile_is_put_in_its_own_place(desk: TestClient, folder: Path) -> None:
    page = desk.get("/trial", params={"trial": "four-changes", "change": "4"}).text
    out = desk.get("/trial", params={"trial": "four-changes", "change": "1"}).text
    assert "is taken out" in desk.post("/trial/order", data=filled(fields_of(out, "/trial/order"), do="out")).text
    both = desk.post("/trial/keep", data=filled(fields_of(page), now="30"))
    assert both.status_code == 409
    assert desk.post("/trial/keep", data=filled(fields_of(both.text))).status_code == 200
    trial = read_overlay(trial_text(folder, "four-changes"), name="four-changes", catalogue=CATALOGUE)
    assert [(change.key, change.now) for change in trial.changes][2] == ("overhanging-ball-wait.wait_s", 30)
    assert len(trial.changes) == 3


def test_what_was_taken_out_is_put_back_to_the_letter(desk: TestClient, folder: Path) -> None:
    before = trial_text(folder, "four-changes")
    page = desk.get("/trial", params={"trial": "four-changes", "change": "2"}).text
    out = desk.post("/trial/order", data=filled(fields_of(page, "/trial/order"), do="out"))
    assert "drop-height.height" in out.text
    assert "drop-height.height" not in trial_text(folder, "four-changes")
    assert desk.post("/trial/order", data=filled(fields_of(out.text, "/trial/order"))).status_code == 200
    assert trial_text(folder, "four-changes") == before


def test_changes_are_moved(desk: TestClient, folder: Path) -> None:
    page = desk.get("/trial", params={"trial": "four-changes"}).text
    assert desk.post("/trial/order", data=filled(fields_of(page, "/trial/order"), do="down")).status_code == 200
    trial = read_overlay(trial_text(folder, "four-changes"), name="x", catalogue=CATALOGUE)
    assert [change.key for change in trial.changes][:2] == ["drop-height.height", "search.limit_min"]


# Bad input -----------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("title", NAMES)
def test_a_title_is_foreign_text(desk: TestClient, title: str) -> None:
    name = begin(desk, title)
    for page in (desk.get("/trial").text, desk.get("/trial", params={"trial": name}).text):
        assert title in unescape(page)
        assert "<script>alert" not in page
        assert "<img src=x" not in page
        assert "49" not in re.sub(r"[0-9a-f]{16}|\d{4}-\d\d-\d\d", "", page) or "7 * 7" in page


def test_a_title_of_200_letters_fits_and_one_more_does_not(desk: TestClient) -> None:
    assert begin(desk, "x" * 200)
    for title in ("x" * 201, "", "   ", "a\u202eb"):
        answer = desk.post("/trial/begin", data={"title": title, "on": "2023", "dated": "2026-03-01"})
        assert answer.status_code == 422
        assert "Not read" in answer.text


@pytest.mark.parametrize(("field", "value"), [("dated", "yesterday"), ("on", "1066"), ("aims", "a\u202eb")])
def test_a_trial_is_begun_with_what_can_be(desk: TestClient, field: str, value: str) -> None:
    answer = desk.post("/trial/begin", data={"title": "T", "on": "2023", "dated": "2026-03-01", field: value})
    assert answer.status_code == 422
    assert f'id="wrong-{field}"' in answer.text


@pytest.mark.parametrize(
    ("key", "put"),
    [
        ("search.limit_min", {"now": "abc"}),
        ("search.limit_min", {"now": "-3"}),
        ("search.limit_min", {"now": "<b>2</b>"}),
        ("search.limit_min", {"now": "9" * 400}),
        ("relief.lateral.size", {"amount": "wide", "unit": "m"}),
        ("relief.lateral.size", {"amount": "2", "unit": "miles"}),
        ("relief.lateral.size", {"amount": "0", "unit": "m"}),
        ("relief.lateral.size", {"same": "as search.limit_min"}),
        ("relief.lateral.size", {"same": "as no.such"}),
        ("drop-height.height", {"now": "from the moon"}),
        ("relief.unplayable-lateral.ball_in", {"pick": ["general-area", "the-moon"]}),
        ("relief.unplayable-lateral.allowed", {"now": "perhaps"}),
        ("act.double-hit.cases", {"case__0__strokes": "many"}),
        ("act.double-hit.cases", {"case_for": "no_such_fact"}),
    ],
)
def test_nonsense_is_told_in_words_and_nothing_is_written(
    desk: TestClient, folder: Path, key: str, put: dict[str, str | list[str]]
) -> None:
    before = trial_text(folder, "divot-holes")
    page = desk.get("/trial", params={"trial": "divot-holes", "key": key}).text
    answer = desk.post("/trial/keep", data=filled(fields_of(page), because="x", **put))
    assert answer.status_code == 422
    assert 'id="wrong-now"' in answer.text
    assert "<b>2</b>" not in answer.text
    assert trial_text(folder, "divot-holes") == before


def test_the_same_value_twice_and_an_unknown_place_are_told(desk: TestClient) -> None:
    page = desk.get("/trial", params={"trial": "four-changes", "key": "search.limit_min"}).text
    assert "Change 1 changes this already" in page
    assert desk.post("/trial/keep", data=filled(fields_of(page), now="1", because="x")).status_code == 422
    for query in (
        {"trial": "none"},
        {"trial": "four-changes", "change": "9"},
        {"trial": "four-changes", "change": "x"},
        {"trial": "four-changes", "key": "no.key"},
        {"trial": "../four-changes"},
    ):
        answer = desk.get("/trial", params=query)
        assert answer.status_code == 422
        assert "Traceback" not in answer.text


def test_a_file_that_is_no_trial_any_more_is_told_and_the_others_stay_listed(desk: TestClient, folder: Path) -> None:
    (folder / "odd.toml").write_text('title = "Odd"\non = ["2023"]\n[[change]]\nkey = 7\n', encoding="utf-8")
    (folder / "older.toml").write_text(
        'title = "Older"\ndated = 2016-01-01\non = ["2023"]\n[[change]]\nkey = "search.limit_min"\nwas = 5\nnow = 4\nbecause = "x"\n',
        encoding="utf-8",
    )
    assert "Trial of four changes" in desk.get("/trial").text
    assert desk.get("/trial", params={"trial": "odd"}).status_code == 200
    stale = desk.get("/trial", params={"trial": "older", "change": "1"}).text
    assert "It holds now: 3 minutes" in stale
    kept = desk.post("/trial/keep", data=filled(fields_of(stale), anew="yes"))
    assert kept.status_code == 200
    assert "was = 3" in trial_text(folder, "older")


# Every key -----------------------------------------------------------------------------------------------------------------

KEYS = [key for key in CATALOGUE.keys if is_changeable(BOOK, key)]


def other_value(key: str) -> dict[str, str | list[str]]:
    """Fields that give a key another value than the book holds."""
    field = offer_field(BOOK, key)
    match field.kind:
        case FieldKind.NUMBER:
            return {"now": f"{float(field.holds) + 1:g}"}
        case FieldKind.LENGTH:
            return {"amount": "3.5", "unit": "m", "same": ""}
        case FieldKind.YES_NO | FieldKind.CHOICE:
            return {"now": next((offer.value for offer in field.offers if not offer.is_held), "")}
        case FieldKind.SEVERAL:
            held = [offer.value for offer in field.offers if offer.is_held]
            more = [offer.value for offer in field.offers if not offer.is_held]
            return {"pick": held + more[:1] if more else held[1:]}
        case _:
            return {f"case__{len(field.cases) - 1}__strokes": str(field.cases[-1].strokes + 1)}


def keep_each(desk: TestClient, folder: Path, keys: list[str]) -> list[str]:
    """Write a trial of one change for each key by its form; gives what did not check clean."""
    wrong = []
    for key in keys:
        put = other_value(key)
        if put == {"now": ""}:
            continue  # a closed list of one word has no other
        file = folder / "each.toml"
        file.write_text('title = "Each"\ndated = 2026-03-01\non = ["2023"]\n', encoding="utf-8")
        page = desk.get("/trial", params={"trial": "each", "key": key})
        fields = fields_of(page.text)
        same = desk.post("/trial/keep", data=filled(fields, because="x"))
        answer = desk.post("/trial/keep", data=filled(fields, because="x", **put))
        try:
            trial = read_overlay(file.read_text(encoding="utf-8"), name="each", catalogue=CATALOGUE)
            stops = [fault.message for fault in check_trial(trial) if fault.stops]
        except Exception as problem:  # whatever is wrong is listed beside its key
            stops = [str(problem)]
        if page.status_code != 200 or same.status_code != 422 or answer.status_code != 200 or stops:
            wrong.append(f"{key}: {page.status_code} {same.status_code} {answer.status_code} {stops}")
    return wrong


def test_a_sample_of_keys_is_offered_changed_and_checks_clean(desk: TestClient, folder: Path) -> None:
    by_kind: dict[FieldKind, list[str]] = {}
    for key in KEYS:
        by_kind.setdefault(offer_field(BOOK, key).kind, []).append(key)
    sample = [key for keys in by_kind.values() for key in keys[:: max(len(keys) // 8, 1)][:9]]
    assert len(sample) > 40
    assert keep_each(desk, folder, sample) == []


@pytest.mark.long
def test_every_key_is_offered_changed_and_checks_clean(desk: TestClient, folder: Path) -> None:
    assert keep_each(desk, folder, KEYS) == []


# A relief that no book has ---------------------------------------------------------------------------------------------------

DIVOT = {
    "thing": "a divot hole",
    "means": "A hole in the turf that a stroke has left.",
    "radius": "0,08",
    "size": "as relief.small.size",
    "because": "A good drive should not be punished.",
}


def add_relief(desk: TestClient, name: str, **put: str | list[str]) -> tuple[int, str]:
    """Fill the gaps of a new relief and keep it; gives the status and the page that answers."""
    page = desk.get("/trial", params={"trial": name, "relief": "new"}).text
    answer = desk.post("/trial/keep", data=filled(fields_of(page), **DIVOT | put))
    return answer.status_code, answer.text


def test_a_new_relief_is_a_situation_and_a_relief_of_the_file(desk: TestClient, folder: Path) -> None:
    name = begin(desk)
    status, _ = add_relief(desk, name)
    assert status == 200
    trial = read_overlay(trial_text(folder, name), name=name, catalogue=CATALOGUE)
    assert [fault.message for fault in check_trial(trial) if fault.stops] == []
    (change,) = trial.changes
    assert [row.id for row in change.adds.rows] == ["situation.divot-hole", "relief.divot-hole"]
    relief = change.adds.rows[1].added
    assert (relief["penalty_strokes"], relief["shape"], relief["reference"], relief["put"]) == (0, "disc", "ball-spot", "drop")
    assert change.adds.conditions[0].radius_m == 0.08


def test_a_new_relief_is_ruled_on_at_once(desk: TestClient) -> None:
    name = begin(desk)
    add_relief(desk, name)
    case = {
        "hole": "4",
        "situation": "divot-hole",
        "x": "-383.692",
        "y": "-237.721",
        "met": "divot-hole:-383.646:-237.741:0.08",
        "longest": "45",
    }
    page = desk.get("/ruling", params={"book": f"2023+{name}", **case}).text
    assert "Relief from a divot hole" in unescape(page)
    assert "no penalty" in page


def test_every_place_and_size_of_the_sentence_checks_clean(desk: TestClient, folder: Path) -> None:
    for reference in ("ball-spot", "nearest-point-of-complete-relief", "spot-behind-ball", "point-on-line", "previous-stroke"):
        for size in ("as relief.lateral.size", "own", "the spot"):
            if (reference, size) == ("point-on-line", "the spot"):
                continue
            name = begin(desk, f"{reference} {size}")
            status, page = add_relief(desk, name, reference=reference, size=size, amount="20", unit="in", penalty="1", put="place")
            assert status == 200, unescape(re.sub(r"<[^>]+>", " ", page.partition('role="alert"')[2][:300]))
            trial = read_overlay(trial_text(folder, name), name=name, catalogue=CATALOGUE)
            assert [fault.message for fault in check_trial(trial) if fault.stops] == [], (reference, size)


@pytest.mark.parametrize(
    ("put", "field"),
    [
        ({"thing": ""}, "what"),
        ({"thing": "a\u202eb"}, "what"),
        ({"thing": "x" * 200}, "what"),
        ({"means": ""}, "means"),
        ({"radius": "wide"}, "radius"),
        ({"radius": "-1"}, "radius"),
        ({"radius": "nan"}, "radius"),
        ({"radius": "900"}, "radius"),
        ({"size": "own", "amount": ""}, "size"),
        ({"size": "own", "amount": "wide"}, "size"),
        ({"size": "as search.limit_min"}, "size"),
        ({"reference": "the-moon"}, "reference"),
        ({"reference": "nearest-point-of-complete-relief", "clear_of": []}, "reference"),
        ({"reference": "point-on-line", "size": "the spot"}, "size"),
        ({"penalty": "many"}, "penalty"),
        ({"penalty": "99"}, "penalty"),
        ({"ball_in": []}, "where"),
        ({"in_areas": ["the-moon"]}, "in_areas"),
        ({"put": "throw"}, "put"),
        ({"limit": "never"}, "limit"),
        ({"because": ""}, "because"),
    ],
)
def test_nonsense_in_a_gap_is_told_beside_it(desk: TestClient, folder: Path, put: dict[str, str | list[str]], field: str) -> None:
    before = trial_text(folder, "four-changes")
    status, page = add_relief(desk, "four-changes", **put)
    assert status == 422
    assert f'id="wrong-{field}"' in page
    assert trial_text(folder, "four-changes") == before


def test_a_thing_of_any_name_is_foreign_text_and_finds_a_name_for_its_rows(desk: TestClient, folder: Path) -> None:
    for thing in ("<b>a hole</b>", "穴", "an animal hole"):
        name = begin(desk, f"Relief {thing}")
        status, page = add_relief(desk, name, thing=thing)
        assert status == 200
        assert "<b>a hole" not in page
        read_overlay(trial_text(folder, name), name=name, catalogue=CATALOGUE)


def test_a_relief_opened_and_kept_unchanged_is_the_same_file(desk: TestClient, folder: Path) -> None:
    file = next(folder.rglob("divot-holes.toml"))
    text = file.read_text(encoding="utf-8").replace(
        'put = "place"', 'put = "place"  # by hand\nneeds_not = ["known_in_object"]\noff_greens = true'
    )
    file.write_text(text, encoding="utf-8")
    page = desk.get("/trial", params={"trial": "divot-holes", "change": "1"}).text
    assert "needs_not" in page
    assert desk.post("/trial/keep", data=filled(fields_of(page))).status_code == 200
    assert file.read_text(encoding="utf-8") == text
    assert (
        desk.post(
            "/trial/keep", data=filled(fields_of(desk.get("/trial", params={"trial": "divot-holes", "change": "1"}).text), penalty="1")
        ).status_code
        == 200
    )
    assert file.read_text(encoding="utf-8") == text.replace("penalty_strokes = 0", "penalty_strokes = 1")


# What comes next -----------------------------------------------------------------------------------------------------------


def test_a_change_is_drawn_at_a_real_place(desk: TestClient) -> None:
    page = desk.get("/trial/ground", params={"trial": "four-changes", "change": "3"}).text
    assert page.count("<svg") > 2
    assert "2023:" in page
    areas = [float(found) for found in re.findall(r"([\d.]+) m²", page)]
    assert areas[0] < areas[1]  # four club-lengths reach farther than two
    assert "nothing to draw" in desk.get("/trial/ground", params={"trial": "four-changes", "change": "1"}).text


def test_a_plan_is_filled_told_and_taken(desk: TestClient) -> None:
    page = desk.get("/trial/plan", params={"trial": "four-changes"}).text
    empty = desk.post("/trial/plan", data=filled(fields_of(page, "/trial/plan")))
    assert empty.status_code == 422
    assert 'id="wrong-seed"' in empty.text
    spreads = {"sd.search_s": "9", "sd.relief_s": "5", "sd.rulings": "0,2"}
    stated = filled(fields_of(page, "/trial/plan"), seed="three-firths-2026", left_out="4") | spreads
    told = desk.post("/trial/plan", data=stated)
    assert told.status_code == 200
    assert "8.95 s less is found" in told.text
    assert "three-firths-2026" not in str(told.url)
    taken = desk.post("/trial/plan/file", data=stated)
    assert "attachment" in taken.headers["content-disposition"]
    assert taken.json()["plan_stamp"] in told.text
    assert desk.post("/trial/papers", data=stated).content.startswith(b"%PDF")


@pytest.mark.parametrize(("field", "value"), [("pairs", "0"), ("pairs", "x"), ("players", "1e3"), ("lost", "95"), ("sd.search_s", "-1")])
def test_nonsense_in_a_plan_is_told(desk: TestClient, field: str, value: str) -> None:
    page = desk.get("/trial/plan", params={"trial": "four-changes"}).text
    answer = desk.post("/trial/plan", data=filled(fields_of(page, "/trial/plan"), seed="s", left_out=["1", "2", "3", "4"]) | {field: value})
    assert answer.status_code == 422
    assert f'id="wrong-{field}"' in answer.text


def test_a_plan_that_cannot_answer_says_what_would(desk: TestClient) -> None:
    page = desk.get("/trial/plan", params={"trial": "four-changes"}).text
    stated = filled(fields_of(page, "/trial/plan"), seed="s", left_out=["2", "3", "4"]) | {"sd.search_s": "90000"}
    answer = desk.post("/trial/plan", data=stated)
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text


def test_the_records_of_the_folder_are_weighed_in_the_words_of_the_report(desk: TestClient, folder: Path) -> None:
    assert "holds no tables" in desk.get("/trial/report", params={"trial": "four-changes"}).text
    shutil.copytree(EXAMPLES / "season", folder / "season")
    tables = {"days": "season/days.csv", "values": "season/values.csv"}
    page = desk.get("/trial/report", params={"trial": "four-changes", **tables}).text
    assert "Did what it was meant to." in page
    assert "A search takes 42.35 s less" in unescape(page)
    paper = desk.get("/trial/report/paper", params={"trial": "four-changes", **tables})
    assert paper.content.startswith(b"%PDF")
    odd = desk.get("/trial/report", params={"trial": "four-changes", "days": "../../etc/passwd", "values": "x"})
    assert odd.status_code == 422


def test_a_trial_is_told_as_players_are_told_it(desk: TestClient) -> None:
    page = unescape(desk.get("/trial/shown", params={"trial": "four-changes"}).text)
    assert "Four club-lengths instead of two" in page
    assert "Did the larger area make relief too kind?" in page
    assert desk.get("/trial/papers/blank", params={"trial": "four-changes"}).content.startswith(b"%PDF")
    assert desk.get("/trial/guide", params={"trial": "four-changes", "form": "poster"}).status_code == 422
    assert desk.get("/trial/shown", params={"trial": begin(desk)}).status_code == 422
