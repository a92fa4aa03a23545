"""Names of 200 letters, from right to left, with markup or pictures among the letters: every print and page shows them, and none breaks."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import page
import pypdfium2
import pytest

from tests.cli.test_odd_names import FIELDS, course_file, incident_file, trial_file
from tests.support.browser import run_out
from tests.support.pdf_reading import words_of, words_outside
from tests.support.running import ROOT, marram
from tests.support.visible_text import VisibleText

MARKUP = "#pagebreak() *b* _i_ <b>x</b> [y] $a^2$ `c` @r // \\ {{ 1 }} &amp; \"q\" 'z'"
NAMES = {
    "one word of 200 letters": "Wonderful" * 22 + "Wo",
    "200 letters": ("Old Moor and Royal Heath of the Three Firths " * 5)[:200],
    "Arabic": "نادي الكثبان الرملية",
    "Hebrew": "מועדון הגולף של צפון הארץ",
    "markup": MARKUP,
    "no type for it": "⛳ Moor 🏌️ 高尔夫 👩‍👧",
}
_PLAIN = {"Arabic": "ن", "Hebrew": "ג", "markup": "#pagebreak() *b* _i_ <b>x</b> [y] $a^2$ `c` @r //", "no type for it": "Moor"}
"""What of a name is read back from a print in the order in which it is written."""


def texts(folder: Path, name: str) -> Iterator[tuple[str, ...]]:
    """Commands that print everything which carries a name of a course, a thing, a trial, its reasons or an exercise."""
    told = json.dumps(name, ensure_ascii=False)
    course, trial = str(course_file(folder, name, FIELDS)), str(trial_file(folder, name, ["title", "because", "aim"]))
    incident, book = str(incident_file(folder, name)), f"2023+{trial}"
    incidents, tasks = folder / "incidents.toml", folder / "tasks.toml"
    incidents.write_text(f'[[incident]]\nname = "a"\ntext = {told}\nanswers = ["yes", {told}]\n', encoding="utf-8")
    tasks.write_text(f'[[task]]\nname = "a"\ntext = {told}\nchange = 1\n', encoding="utf-8")
    yield "course", "draw", course, "--names", "-o", str(folder / "course.pdf")
    yield "course", "draw", course, "--hole", "1", "--names", "-o", str(folder / "hole.pdf")
    yield "rule", incident, "--course", course, "--book", "2019", "--book", book, "--draw", str(folder / "ruling.pdf")
    yield "sheet", "trial", trial, "-o", str(folder / "trial.pdf")
    yield "sheet", "relief", "--book", book, "-o", str(folder / "relief.pdf")
    yield "sheet", "procedure", "unplayable-lateral", "--course", course, "--book", "2023", "--book", book, "-o", str(folder / "guide")
    yield "trial", "papers", trial, "-o", str(folder / "papers.pdf")
    yield from (("book", "compare", "2023", book, "--form", form, "-o", str(folder / f"book.{form}")) for form in ("pdf", "html"))
    yield "trial", "clarity", "plan", trial, "--incidents", str(incidents), "--officials", "6", "--seed", "firths-26", "-o", f"{folder}/c"
    yield "trial", "stations", "plan", trial, "--tasks", str(tasks), "--players", "4", "--seed", "firths-26", "-o", f"{folder}/s"
    yield from _reports(folder, told, name)


def _reports(folder: Path, told: str, name: str) -> Iterator[tuple[str, ...]]:
    """The report of the example's season, its trial and its courses named anew."""
    draft = (ROOT / "examples/trials/four-changes.toml").read_text(encoding="utf-8").replace('"Trial of four changes"', told)
    draft = re.sub(r'(because|aim) = ".*"', lambda found: f"{found[1]} = {told}", draft)
    trial, days = folder / "four.toml", folder / "days.csv"
    trial.write_text(re.sub(r'asks = \[".*"\]', lambda _: f"asks = [{told}]", draft), encoding="utf-8")
    with (ROOT / "examples/season/days.csv").open(encoding="utf-8", newline="") as file:
        rows = [{**row, "course": f"{name} {row['course']}", "note": name} for row in csv.DictReader(file)]
    with days.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, list(rows[0]))
        table.writeheader()
        table.writerows(rows)
    season = ("--days", str(days), "--values", "examples/season/values.csv", "--asked", "examples/season/asked.csv")
    yield from (("trial", "report", str(trial), *season, "-o", str(folder / f"report.{form}")) for form in ("pdf", "html"))


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Where everything with a name is printed."""
    made: dict[str, Path] = {}

    def print_all(kind: str) -> Path:
        if kind not in made:
            folder = made[kind] = tmp_path_factory.mktemp("names")
            for words in texts(folder, NAMES[kind]):
                done = marram(*words)
                assert done.returncode == 0, f"{words[:2]}: {done.stderr}"
        return made[kind]

    return print_all


@pytest.mark.parametrize("kind", NAMES)
def test_every_print_stands_whole_on_its_page_and_reads_aloud(printed: Callable[[str], Path], kind: str) -> None:
    folder = printed(kind)
    prints = {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*.pdf")}
    assert len(prints) == 12
    for name, pdf in prints.items():
        assert words_outside(pdf) == [], name
        assert [failure.rule_id for failure in page.validate_pdf_bytes(pdf, profile="ua1").failures] == [], name
        if kind in _PLAIN and name not in {"relief.pdf", "ruling.pdf"}:
            assert _PLAIN[kind] in words_of(pdf), name


def test_markup_makes_no_page(printed: Callable[[str], Path]) -> None:
    """The name would break the page of every line that it stands in, were it read as the typesetter reads it."""
    plain, marked = printed("Hebrew"), printed("markup")
    for name in ("trial.pdf", "papers.pdf", "guide/guide.pdf", "guide/guide-pocket.pdf", "c/sheets.pdf", "s/sheets.pdf"):
        pages = [len(pypdfium2.PdfDocument((folder / name).read_bytes())) for folder in (plain, marked)]
        assert pages[0] == pages[1], name


def test_markup_stays_words_on_a_page(printed: Callable[[str], Path]) -> None:
    folder = printed("markup")
    for name in ("report.html", "book.html", "guide/guide.html", "guide/guide-screen.html"):
        text = (folder / name).read_text(encoding="utf-8")
        assert "<b>x</b>" not in text, name
        assert MARKUP in " ".join(VisibleText(text).words), name


@pytest.mark.browser
@pytest.mark.parametrize("kind", ["one word of 200 letters", "Arabic"])
@pytest.mark.parametrize("name", ["report.html", "book.html", "guide/guide.html"])
def test_a_page_with_a_long_name_is_no_wider_than_a_phone(printed: Callable[[str], Path], kind: str, name: str) -> None:
    assert run_out(printed(kind) / name, 390) == []
