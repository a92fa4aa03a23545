"""Names that hold markup, quotes, right-to-left letters, line breaks or signs that are not seen: refused, or told as what they are."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.fuzz import seeds
from tests.support.pdf_reading import words_of
from tests.support.running import Run

MARKUP = "<script>alert('1')</script> & \"x\" \u05d2\u05d5\u05dc\u05e3"
UNSEEN = ["a\nb", "a\u202eb", "a\x1b[31mb", "a\u2066b", "a\tb", "a\x00b"]
FIELDS = ["course.name", "id", "what"]


class Tags(HTMLParser):
    """The elements of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        self.found.append(tag)

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def course_file(folder: Path, text: str, fields: list[str]) -> Path:
    """The small course with a text in the place of names."""
    raw = json.loads(seeds.COURSE.read_text(encoding="utf-8"))
    path = next(each for each in raw["features"] if each["properties"]["id"] == "path-long")
    for field in fields:
        if field == "course.name":
            raw["course"]["name"] = text
        else:
            path["properties"][field] = text
    made = folder / "named.geojson"
    made.write_text(json.dumps(raw), encoding="utf-8")
    return made


def incident_file(folder: Path, text: str) -> Path:
    words = json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
    made = folder / "named.toml"
    head = 'hole = 1\nsituation = "animal-hole"\nball = { x_m = 20, y_m = 0 }\nplayer = { hand = "right", longest_club_in = 45 }\n'
    ground = f'[[conditions]]\nkind = "animal-hole"\nx_m = 20\ny_m = 0\nradius_m = 0.3\nwhat = {words}\n'
    made.write_text(f"title = {words}\n{head}{ground}", encoding="utf-8")
    return made


def day_file(folder: Path, text: str, member: str) -> Path:
    words = json.dumps(text, ensure_ascii=False)
    made = folder / "day.toml"
    made.write_text(
        f'date = 2026-06-13\n[[conditions]]\nkind = "animal-hole"\nx_m = 30\ny_m = 0\nradius_m = 0.3\n{member} = {words}\n',
        encoding="utf-8",
    )
    return made


def trial_file(folder: Path, text: str, members: list[str]) -> Path:
    words = json.dumps(text, ensure_ascii=False)
    told = {"title": '"A trial"', "because": '"Quicker."', "aim": '"Less waiting."'} | dict.fromkeys(members, words)
    made = folder / "odd.toml"
    made.write_text(
        f'title = {told["title"]}\ndated = 2026-03-01\non = ["2023"]\n[[change]]\nkey = "search.limit_min"\nwas = 3\nnow = 2\n'
        f'because = {told["because"]}\naim = {told["aim"]}\nexpects = {{ outcome = "search_s", direction = "down", matters = 15 }}\n'
        f'observes = ["search_s"]\nasks = [{words}]\n',
        encoding="utf-8",
    )
    return made


@pytest.mark.parametrize("text", UNSEEN)
@pytest.mark.parametrize("field", FIELDS)
def test_a_name_of_a_course_is_one_line_that_is_seen(called: Run, tmp_path: Path, text: str, field: str) -> None:
    code, out, err = called("course", "check", str(course_file(tmp_path, text, [field])))
    assert (code, out) == (2, "")
    assert "holds the sign" in err
    assert text not in err


@pytest.mark.parametrize("text", UNSEEN[:4])
def test_a_name_in_an_incident_a_day_or_a_trial_is_one_line_that_is_seen(called: Run, tmp_path: Path, text: str) -> None:
    course, sound = str(course_file(tmp_path, "Moor", [])), str(incident_file(tmp_path, "hole of a fox"))
    runs = [called("rule", sound, "--course", course, "--today", str(day_file(tmp_path, text, member))) for member in ("id", "what")]
    runs.append(called("rule", str(incident_file(tmp_path, text)), "--course", course))
    runs += [called("trial", "show", str(trial_file(tmp_path, text, ["title"])), "--json")]
    for code, out, err in runs:
        assert code == 2
        assert "sign" in out + err
        assert text not in err


def test_markup_and_right_to_left_letters_are_told_as_they_are(called: Run, tmp_path: Path) -> None:
    course, incident = course_file(tmp_path, MARKUP, FIELDS), incident_file(tmp_path, MARKUP)
    words = ["rule", str(incident), "--course", str(course), "--today", str(day_file(tmp_path, MARKUP, "what")), "--book", "2023"]
    code, out, err = called(*words, "--draw", str(tmp_path / "drawn.svg"))
    assert code == 0, err
    assert MARKUP in out
    told = json.loads(called(*words, "--json")[1])
    assert MARKUP in json.dumps(told, ensure_ascii=False).replace('\\"', '"')
    refuse_markup(tmp_path / "drawn.svg")


@pytest.mark.parametrize("ending", ["svg", "pdf"])
def test_a_course_with_markup_in_its_names_is_drawn(called: Run, tmp_path: Path, ending: str) -> None:
    out = tmp_path / f"course.{ending}"
    code, _, err = called("course", "draw", str(course_file(tmp_path, MARKUP, FIELDS)), "-o", str(out), "--names")
    assert code == 0, err
    if ending == "svg":
        refuse_markup(out)
    else:
        assert "script" in "".join(words_of(out.read_bytes()))


def test_a_trial_with_markup_is_told_and_its_guide_is_a_page(called: Run, tmp_path: Path) -> None:
    trial = str(trial_file(tmp_path, MARKUP, ["title", "because", "aim"]))
    assert MARKUP in called("trial", "show", trial)[1]
    course = str(course_file(tmp_path, MARKUP, FIELDS))
    code, _, err = called("trial", "guide", trial, "--course", course, "-o", str(tmp_path / "guide"))
    assert code == 0, err
    pages = sorted((tmp_path / "guide").glob("*.html"))
    assert pages
    for path in pages:
        page = Tags()
        page.feed(path.read_text(encoding="utf-8"))
        assert "alert('1')" in " ".join(page.words)
        assert page.found.count("script") == 0


def refuse_markup(drawing: Path) -> None:
    """See that a drawing is sound XML, holds the name as words, and no script."""
    tree = ET.fromstring(drawing.read_text(encoding="utf-8"))
    assert not [each for each in tree.iter() if each.tag.endswith("script")]
    assert "<script>alert" not in drawing.read_text(encoding="utf-8")
