"""The rule book: every value of every edition stands on a page, in words and with its rule, and every page is reached by links."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import parse_qs, urlsplit

import pytest
from starlette.testclient import TestClient

from marram.core.terms import Club, Hand
from marram.core.units import Size
from marram.desk.pages.case_address import address_of_incident
from marram.desk.pages.page import Desk
from marram.desk.rulings.desk_jobs import do_job
from marram.office.courses.find_places import find_places, player_with
from marram.office.workroom import Workroom
from marram.rulebook.catalogue import Row
from marram.rulebook.reading.files import packaged_catalogue
from marram.rulebook.values import PartSpec, PartType, SizeOf, Value, cases_of
from tests.desk.conftest import EXAMPLES

CATALOGUE = packaged_catalogue()
EDITIONS = tuple(CATALOGUE.editions)


RAW = re.compile(r"\b[a-z]+(?:-[a-z]+){3,}\b|\b[a-z]+_[a-z_]+\b")
"""Names of the rule data, which no page shows as words: joined by lines below, or by three and more hyphens."""
OF_THE_RULES = {"stroke-and-distance", "back-on-the-line", "off-the-green"}


@dataclass
class Read(HTMLParser):
    """A page, read: its links, its values by key, and all its text."""

    links: list[str] = field(default_factory=list)
    values: dict[str, str] = field(default_factory=dict)
    text: str = ""
    _key: str = ""
    _depth: int = 0

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "a" and given.get("href"):
            self.links.append(str(given["href"]))
        if given.get("data-key"):
            self._key, self._depth = str(given["data-key"]), 0
            self.values[self._key] = ""
        if self._key and tag == "div":
            self._depth += 1

    def handle_endtag(self, tag: str) -> None:
        if self._key and tag == "div":
            self._depth -= 1
            self._key = self._key if self._depth else ""

    def handle_data(self, data: str) -> None:
        self.text += data
        if self._key:
            self.values[self._key] += data


def read(desk: Desk, job: str, query: str) -> Read:
    page = do_job(desk, job, query)
    assert page.status == 200, (job, query, page.text[:300])
    found = Read()
    found.feed(page.text)
    return found


def asked(links: list[str], path: str, name: str) -> list[str]:
    """What links to a path state under a name."""
    return [parse_qs(urlsplit(link).query)[name][0] for link in links if urlsplit(link).path == path]


def plain(text: str) -> str:
    return " ".join(text.split())


def expected(row: Row, spec: PartSpec, value: Value, edition: str) -> Iterator[str]:
    """What must be read of a value, from the rule data itself."""
    if cases := cases_of(value):
        for case in cases:
            yield case.stroke_play_words
            yield case.match_play_words
            yield from (CATALOGUE.facts[fact].asked_in(edition).partition("{")[0] for fact in case.when)
    elif isinstance(value, bool):
        yield "yes" if value else "no"
    elif isinstance(value, int | float):
        yield "no penalty" if spec.unit == "strokes" and value == 0 else f"{value:g}"
    elif isinstance(value, Size):
        yield value.words
    elif isinstance(value, SizeOf):
        yield "club-length" if "club" in str(value) else ""
    elif isinstance(value, tuple):
        yield from (said for word in value for said in worded(row, spec, str(word), edition))
    elif isinstance(value, str) and spec.type in {PartType.TERM, PartType.REMARK}:
        yield from (plain(piece) for piece in re.split(r"\{[^}]*\}|[a-z]+(?:-[a-z]+)+", value.removeprefix("-")) if len(plain(piece)) > 3)
    elif isinstance(value, str):
        yield from worded(row, spec, value, edition)


def worded(row: Row, spec: PartSpec, word: str, edition: str) -> Iterator[str]:
    if spec.of == "fact":
        yield CATALOGUE.facts[word].asked_in(edition).partition("{")[0]
    elif spec.of and f"{spec.of.rstrip('.')}.{word}" in CATALOGUE.rows:
        named = CATALOGUE.rows[f"{spec.of.rstrip('.')}.{word}"]
        title = named.editions[edition].values.get("title")
        yield title if isinstance(title, str) else named.means.partition(".")[0] if not named.id.startswith("relief.") else ""
    elif row.id.partition(".")[0] != "form":  # those are told in sentences of their own
        yield from (plain(piece) for piece in re.split(r"\{[^}]*\}", spec.says.get(word, word.replace("-", " ").replace("_", " "))))


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_value_of_every_edition_is_read_on_a_page_that_links_lead_to(examples_desk: Desk, edition: str) -> None:
    contents = read(examples_desk, "books", f"book={edition}")
    headings = asked(contents.links, "/books/heading", "heading")
    rules = [
        rule
        for heading in headings
        for rule in asked(read(examples_desk, "books-heading", f"book={edition}&heading={heading}").links, "/books/rule", "rule")
    ]
    assert sorted(rules) == sorted(CATALOGUE.rows)
    missing = []
    for rule in rules:
        row, page = CATALOGUE.rows[rule], read(examples_desk, "books-rule", f"book={edition}&rule={rule}")
        cell = row.editions[edition]
        assert page.values.keys() == {f"{rule}.{part}" for part in row.parts}
        for name, spec in row.parts.items():
            told, key = plain(page.values[f"{rule}.{name}"]), f"{rule}.{name}"
            missing += [(key, found) for found in RAW.findall(told) if found not in OF_THE_RULES]
            if name not in cell.values:
                why = cell.absent or cell.without.get(name, "nothing is stated")
                missing += [(key, why)] if plain(why) not in told else []
                continue
            says = told.lower()
            missing += [(key, one) for one in expected(row, spec, cell.values[name], edition) if plain(one).lower() not in says]
            if name not in cell.defaulted and cell.citation is not None and cell.citation.reference.removeprefix("Rule ") not in told:
                missing.append((key, cell.citation.reference))
        if cell.citation is not None:
            assert cell.citation.document in page.text
    assert missing == []


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_value_that_nobody_stated_bears_no_sign_of_a_source(examples_desk: Desk, edition: str) -> None:
    rule = "relief.penalty-area-lateral-red"
    page = read(examples_desk, "books-rule", f"book={edition}&rule={rule}")
    usual = CATALOGUE.rows[rule].editions[edition].defaulted
    citation = CATALOGUE.rows[rule].editions[edition].citation
    assert citation is not None
    assert usual
    number = citation.reference.removeprefix("Rule ")
    assert all(number not in page.values[f"{rule}.{part}"] for part in usual)
    assert number in page.values[f"{rule}.penalty_strokes"]


def test_lateral_relief_is_told_as_the_rule_has_it(client: TestClient) -> None:
    """Rules of Golf (January 2023), 17.1d(3): one penalty stroke, within two club-lengths of the point where the ball last crossed the
    edge, not nearer the hole than that point, for a red penalty area alone. In 2016 (26-1c) the same."""
    text = plain(re.sub(r"<[^>]+>", " ", client.get("/books/situation?situation=penalty-area&book=2023").text))
    lateral = text[text.index("Lateral relief where the ball lies") :][:600]
    assert "one penalty stroke" in lateral
    assert "two club-lengths, measured from where the ball crossed the edge, no nearer than that point" in lateral
    assert "(red or unmarked)" in lateral


@pytest.mark.parametrize("edition", EDITIONS)
def test_each_situation_has_a_page_with_its_options(client: TestClient, examples_desk: Desk, edition: str) -> None:
    names = asked(read(examples_desk, "books", f"book={edition}").links, "/books/situation", "situation")
    assert names == [row.removeprefix("situation.") for row in CATALOGUE.rows_of("situation")]
    for name in names:
        row = CATALOGUE.rows[f"situation.{name}"].editions[edition]
        page = read(examples_desk, "books-situation", f"book={edition}&situation={name}")
        for procedure in row.values.get("procedures", ()):  # type: ignore[union-attr]
            linked = asked(page.links, "/books/rule", "rule")
            assert f"relief.{procedure}" in linked, (name, procedure)


def test_a_situation_is_drawn_where_it_happened_and_goes_on_to_its_ruling(client: TestClient) -> None:
    text = client.get("/books/situation?situation=penalty-area&book=2023&course=thimble-moor").text
    assert 'class="drawing' in text
    at = re.search(r'href="(/ruling\?[^"]*)"[^>]*>Rule at this place', text)
    assert at is not None
    ruled = client.get(at[1].replace("&amp;", "&"))
    assert ruled.status_code == 200
    assert "Lateral relief" in ruled.text


def test_a_place_is_looked_for_on_the_course(client: TestClient) -> None:
    bare = client.get("/books/situation?situation=ground-under-repair").text
    assert "/books/place?" in bare
    found = client.get("/books/place?situation=ground-under-repair&course=thimble-moor&book=2023", follow_redirects=False)
    assert found.status_code == 303
    there = client.get(found.headers["location"]).text
    assert "Rule at this place" in there
    assert 'class="drawing' in there
    none = client.get("/books/place?situation=preferred-lies&course=thimble-moor&book=2016")
    assert none.status_code == 200
    assert "No place of the course shows it." in none.text


def test_two_books_are_told_apart_in_sentences(client: TestClient) -> None:
    """Search: five minutes in the Rules of 2016 (27), three since 2019 (18.2a)."""
    text = plain(re.sub(r"<[^>]+>", " ", client.get("/books/compare?book=2016&book=2019").text))
    assert re.search(r"looking for a ball[^.]*: 5 minutes \([^)]*27-1c\) becomes 3 minutes \(Rule 18\.2a", text)
    assert "From 2016 to draft 2017" in client.get("/books/compare?book=draft-2017").text
    laid = plain(re.sub(r"<[^>]+>", " ", client.get("/books/compare?book=2023%2Bfixed-lengths").text))
    assert "From 2023 to 2023 + fixed lengths" in laid


def test_what_is_laid_over_an_edition_is_read_as_part_of_it(client: TestClient) -> None:
    text = client.get("/books?edition=2019&overlay=fixed-lengths&overlay=preferred-lies").text
    assert "2019+fixed-lengths+preferred-lies" in text
    assert text.count(" checked") == 2
    rule = client.get("/books/rule?book=2019%2Bfixed-lengths&rule=relief.lateral").text
    assert "set by what is laid over the edition" in rule


def test_a_rule_is_found_by_words(client: TestClient) -> None:
    text = client.get("/books/find?words=ball+in+the+pond").text
    assert "/books/situation?" in text
    assert "situation=penalty-area" in text
    assert "/books/rule?" in client.get("/books/find?words=played+a+wrong+ball").text
    assert client.get("/books/find").status_code == 200
    assert client.get("/books/find?words=handicap+stroke+index+allocation+of+tax").status_code == 200


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("/books/rule?rule=nothing-of-the-kind", "The book has no such rule."),
        ("/books/rule", "No rule is named."),
        ("/books/situation?situation=lost-balls", "no such situation"),
        ("/books/situation", "No situation is named."),
        ("/books?book=1744", "no such edition"),
        ("/books?colour=red", "states nothing under the name"),
        ("/books?edition=2019&overlay=../../etc/passwd", "There is no trial"),
    ],
)
def test_what_cannot_be_shown_is_said(client: TestClient, path: str, said: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 422
    assert said in answer.text


def test_foreign_words_stand_as_text(client: TestClient) -> None:
    text = client.get("/books/find?words=%3Cscript%3Ealert(1)%3C/script%3E").text
    assert "<script>alert" not in text
    assert "&lt;script&gt;" in text


def test_what_an_overlay_sets_is_stated_even_where_the_edition_leaves_it_as_usual(client: TestClient, examples_desk: Desk) -> None:
    """Committee Procedures, Model Local Rule E-5: the alternative to stroke and distance holds only where the Committee adopts it."""
    rule = "relief.stroke-and-distance-alternative"
    bare = read(examples_desk, "books-rule", f"book=2023&rule={rule}")
    laid = read(examples_desk, "books-rule", f"book=2023%2Balternative-to-stroke-and-distance&rule={rule}")
    assert plain(bare.values[f"{rule}.adopted"]).endswith("no")
    assert re.search(r"yes set by what is laid over the edition change \d", plain(laid.values[f"{rule}.adopted"]))
    assert "Opened by" not in bare.text
    assert "Opened by" in laid.text


def test_what_is_open_and_what_is_not_given_stand_apart(client: TestClient) -> None:
    text = plain(re.sub(r"<[^>]+>", " ", client.get("/books/situation?situation=penalty-area&book=2023&course=thimble-moor").text))
    given, not_given = text.split("Not given, and why")
    assert "Relief on the opposite side" not in given
    assert "Relief on the opposite side" in not_given
    lost = given[given.index("Stroke and distance, as for a lost ball") :]
    assert re.search(r"virtually certain that the ball is in the penalty area\? No\b", lost)
    assert re.search(r"virtually certain that the ball is in the penalty area\? Yes, of a ball not found", given)
    assert "Hole 7, Thimble Moor" in text  # of the balls of the folder, the one with most options


def test_where_the_ball_may_not_be_played_as_it_lies_is_asked(client: TestClient) -> None:
    text = plain(re.sub(r"<[^>]+>", " ", client.get("/books/situation?situation=no-play-zone&book=2023").text))
    assert "The ball may not be played as it lies where the answer is yes:" in text
    assert "may not be played as it lies where" not in client.get("/books/situation?situation=unplayable&book=2023").text


@pytest.mark.parametrize("edition", EDITIONS)
def test_how_values_are_known_is_counted_for_the_edition_that_is_read(client: TestClient, edition: str) -> None:
    stated = sum(
        name not in cell.defaulted or name in cell.seen_of
        for row in CATALOGUE.rows.values()
        for cell in [row.editions[edition]]
        for name, spec in row.parts.items()
        if name in cell.values and spec.decides
    )
    counts = re.findall(r"</span><b>(\d+)</b></li>", client.get(f"/books?book={edition}").text)
    assert sum(map(int, counts[:-1])) == stated


def test_a_place_is_looked_for_in_the_situation_that_is_meant() -> None:
    room = Workroom()
    opened, books = room.course(EXAMPLES / "courses" / "thimble-moor.geojson"), room.books(("2023",))
    player = player_with(Hand.RIGHT, Club.IRON, 45.0)
    shown = 0
    for situation in ("animal-hole", "temporary-water", "ground-under-repair"):
        found = find_places(opened, "ground-condition-general-area", books, player=player, count=1, situation=situation)
        assert {place.incident.situation for place in found.places} <= {situation}
        shown += len(found.places)
    assert shown


def test_things_met_as_discs_come_into_an_address() -> None:
    met = {"kind": "animal-hole", "x_m": 1.5, "y_m": -2.0, "radius_m": 0.25}
    stated = address_of_incident({"hole": 7, "conditions": [met]})
    assert stated is not None
    assert stated.all("met") == ("animal-hole:1.5:-2.0:0.25",)
    assert address_of_incident({"hole": 7, "conditions": [{"kind": "animal-hole", "ring": []}]}) is None
