"""A word, fact or name that is misspelt in the rule data is told at reading, by file and row, with what would be right."""

from __future__ import annotations

import re
import shutil
from enum import StrEnum
from importlib import resources
from pathlib import Path

import pytest

from marram.core.errors import RuleDataError
from marram.core.terms import FeatureKind
from marram.rulebook import consequence_words
from marram.rulebook.consequences import Consequence, parse_cases
from marram.rulebook.named_facts import NamedFact
from marram.rulebook.placeholders import FilledIn, unknown_placeholders
from marram.rulebook.reading.files import packaged_catalogue, read_catalogue
from marram.rulebook.values import PartSpec, PartType
from marram.rulebook.vocabulary import WORDS, Put, faults_of_words

DATA = Path(str(resources.files("marram.rulebook").joinpath("data")))

MISSPELT = [
    pytest.param(
        "forms.toml", 'put = { type = "word", words = ["drop",', 'put = { type = "word", words = ["dorp",',
        "forms.toml, relief procedure.put:",
        ("'dorp'", "drop, place, replace"), id="closed-list",
    ),
    pytest.param(
        "unplayable.toml", 'reference = "ball-spot"', 'reference = "ball-spott"', "unplayable.toml, relief.unplayable-",
        ("reference is 'ball-spott'", "ball-spot"), id="reference",
    ),
    pytest.param(
        "unplayable.toml", 'shape = "disc"', 'shape = "disk"', "unplayable.toml, relief.unplayable-lateral",
        ("shape is 'disk'", "disc"), id="shape",
    ),
    pytest.param(
        "acts_of_claims_and_pace.toml", 'when = ["second_breach"', 'when = ["secnd_breach"', "acts_of_claims_and_pace.toml, act.",
        ("'secnd_breach'", "nearest: second_breach"), id="fact-of-a-case",
    ),
    pytest.param(
        "facts.toml", 'name = "on_fairway_height"', 'name = "on_fairway_hight"', "facts.toml, on_fairway_height:",
        ("logic asks for this fact", "nearest: on_fairway_hight"), id="fact-of-the-catalogue",
    ),
    pytest.param(
        "forms.toml", '"aeration-hole"', '"aeration-hol"', "forms.toml, situation.conditions:",
        ("'aeration-hol'", "aeration-hole"), id="kind-of-condition",
    ),
    pytest.param(
        "forms.toml", 'in_areas = { type = "words", words = ["general-area"', 'in_areas = { type = "words", words = ["generl-area"',
        "forms.toml, relief procedure.in_areas:", ("'generl-area'", "general-area"), id="area",
    ),
    pytest.param(
        "cautions.toml", 'facts = ["lightning",', 'facts = ["lightening",', "cautions.toml, caution.lightning, 2016:",
        ("lightening", "lightning"), id="fact-of-a-caution",
    ),
    pytest.param(
        "forms.toml", 'situations = { type = "words", words = ["penalty-area"', 'situations = { type = "words", words = ["penalti-area"',
        "forms.toml, caution.situations:", ("there is no situation 'penalti-area'",), id="situation-of-a-caution",
    ),
    pytest.param(
        "wording.toml", "{teeing_area}", "{teing_area}", "wording.toml, ", ("{teing_area} is no term", "nearest: teeing_area"), id="term",
    ),
    pytest.param(
        "clauses.toml", "{dropped-ball-roll-limit.roll_limit", "{dropped-ball-roll-limit.rol_limit", "clauses.toml, clauses, ",
        ("is no key of the rule data", "nearest: dropped-ball-roll-limit.roll_limit"), id="key-in-a-sentence",
    ),
    pytest.param(
        "situations.toml", '"penalty-area-back-on-line"', '"penalty-area-back-on-lin"', "situation.penalty-area, 2016:",
        ("there is no such row",), id="relief-of-a-situation",
    ),
    pytest.param(
        "dropping.toml", 'words = ["into-hazard"', 'words = ["in-hazard"', "dropping.toml, redrop-cases.cases:",
        ("'in-hazard'", "into-hazard"), id="case-for-dropping-again",
    ),
    pytest.param(
        "lost_and_out_of_bounds.toml", 'elsewhere = "drop-near-spot"', 'elsewhere = "drop-by-spot"',
        "lost_and_out_of_bounds.toml, stroke-and-distance-spot, 2016:", ("'drop-by-spot'", "drop-near-spot"), id="previous-spot",
    ),
    pytest.param(
        "forms.toml", '"form-that-is-played"]', '"form-played"]', "forms.toml, form of play.takes_after:",
        ("'form-played'", "form-that-is-played"), id="form-of-play",
    ),
    pytest.param(
        "forms.toml", '["as-elsewhere",', '["as-elswhere",', "forms.toml, moving.allowed_on_teeing_area:",
        ("'as-elswhere'", "as-elsewhere"), id="thing-on-the-teeing-area",
    ),
    pytest.param(
        "forms.toml", 'if_solidly_embedded = { type = "word", words = ["the-same", "loose-impediment"',
        'if_solidly_embedded = { type = "word", words = ["the-same", "lose-impediment"', "forms.toml, thing.if_solidly_embedded:",
        ("'lose-impediment'", "loose-impediment"), id="kind-of-a-thing",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("file", "right", "wrong", "where", "told"), MISSPELT)
def test_a_misspelt_word_is_told_at_reading(tmp_path: Path, file: str, right: str, wrong: str, where: str, told: tuple[str, ...]) -> None:
    folder = tmp_path / "data"
    shutil.copytree(DATA, folder)
    text = (folder / file).read_text(encoding="utf-8")
    assert right in text
    (folder / file).write_text(text.replace(right, wrong, 1), encoding="utf-8")
    with pytest.raises(RuleDataError) as fault:
        read_catalogue(folder)
    lines = [line for line in str(fault.value).splitlines() if where in line]
    assert any(all(word in line for word in told) for line in lines), str(fault.value)[:2000]


@pytest.mark.parametrize(("place", "known"), WORDS.items(), ids=lambda value: "-".join(value) if isinstance(value, tuple) else "")
def test_each_enum_is_its_closed_list_both_ways(place: tuple[str, str], known: type[StrEnum]) -> None:
    catalogue = packaged_catalogue()
    name, part = place
    parts = catalogue.forms[name] if name in catalogue.forms else catalogue.rows[name].parts
    assert set(parts[part].words) == {word.value for word in known}


def test_a_word_too_many_and_a_word_too_few_are_told() -> None:
    more = PartSpec(name="put", type=PartType.WORD, means="", words=(*Put, "throw"))
    assert list(faults_of_words({"relief procedure": {"put": more}})) == [
        ("relief procedure.put", "no logic knows the word 'throw'; it knows drop, place, replace, play, as-it-lies")
    ]
    fewer = PartSpec(name="put", type=PartType.WORD, means="", words=tuple(Put)[:-1])
    assert list(faults_of_words({"relief procedure": {"put": fewer}})) == [
        ("relief procedure.put", "the closed list lacks the word 'as-it-lies', which logic knows")
    ]


def test_what_a_fact_makes_of_a_thing_is_a_kind_or_the_same() -> None:
    kind = PartSpec(name="kind", type=PartType.WORD, means="", words=("equipment",))
    known = PartSpec(name="if_easy", type=PartType.WORD, means="", words=("the-same", "equipment"))
    assert list(faults_of_words({"thing": {"kind": kind, "if_easy": known}})) == []
    fewer = PartSpec(name="if_easy", type=PartType.WORD, means="", words=("equipment",))
    assert list(faults_of_words({"thing": {"kind": kind, "if_easy": fewer}})) == [
        ("thing.if_easy", "the closed list lacks the word 'the-same', which logic knows")
    ]


def test_facts_that_logic_names_are_facts() -> None:
    assert set(NamedFact) <= packaged_catalogue().facts.keys()


def test_what_is_filled_in_is_no_term_and_stands_in_some_sentence() -> None:
    catalogue = packaged_catalogue()
    texts = "\n".join(path.read_text(encoding="utf-8") for path in DATA.glob("*.toml"))
    assert not set(FilledIn) & catalogue.rows["terms"].parts.keys()
    assert [name for name in FilledIn if not re.search(rf"\{{{name}[:}}]", texts)] == []


def test_placeholders_are_terms_keys_or_filled_in() -> None:
    told = list(unknown_placeholders("{green} {cost} {a.b} {own.b:or}", ["green"], ["a.b"], ["b"]))
    assert told == []
    wrong = list(unknown_placeholders("{gren} {a.c} {own.c}", ["green"], ["a.b"], ["b"]))
    assert [fault.partition("}")[0] for fault in wrong] == ["{gren", "{a.c", "{own.c"]


@pytest.mark.parametrize(
    "misspelt",
    [
        {"hole": "losst"},
        {"who": "oponent"},
        {"out": "allways"},
        {"stroke": "count"},
        {"ball": "replced"},
        {"put_right": "before-the-crad"},
        {"match_stroke": "replayed"},
        {"match_ball": "teed"},
        {"only_in": "match"},
        {"added": "each"},
    ],
    ids=lambda entry: next(iter(entry)),
)
def test_a_misspelt_word_of_a_consequence_is_no_case(misspelt: dict[str, str]) -> None:
    assert parse_cases([{"strokes": 1}]) == (Consequence(strokes=1),)
    assert parse_cases([{"strokes": 1} | misspelt]) is None


def test_words_of_consequences_are_enums_and_each_can_be_told() -> None:
    case = Consequence()
    typed = (case.hole, case.who, case.out, case.stroke, case.ball, case.put_right, case.only_in, case.added)
    assert all(isinstance(word, StrEnum) for word in typed)
    assert set(consequence_words.BALL_WORDS) == set(consequence_words.BallIs)
    assert set(consequence_words.STROKE_WORDS) == set(consequence_words.StrokeIs)
    assert set(consequence_words.HOLE_WORDS) == set(consequence_words.HoleIs)
    assert set(consequence_words.ADDED_WORDS) == set(consequence_words.Added)


def test_kinds_of_conditions_are_features() -> None:
    conditions = packaged_catalogue().forms["situation"]["conditions"].words
    assert set(conditions) - set(FeatureKind) == {"wrong-green"}
