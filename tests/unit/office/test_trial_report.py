"""A trial weighed: the demo season gives the verdicts that are built in; plan, report, page and print agree; bad plans are refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from marram.cli.trial.plan_command import plan
from marram.cli.trial.report import report
from marram.core.errors import StudyError
from marram.office.workroom import Workroom
from tests.support.pdf_reading import words_of

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"
TRIAL = str(EXAMPLES / "trials" / "four-changes.toml")
RECORDS = ["--days", str(EXAMPLES / "season" / "days.csv"), "--values", str(EXAMPLES / "season" / "values.csv")]
SPREAD = ["--sd", "search_s=9", "--sd", "relief_s=5", "--sd", "rulings=0.2"]
SEED = ["--seed", "three-firths-2026"]


def planned(tmp_path: Path, *more: str) -> Path:
    path = tmp_path / "plan.json"
    done = CliRunner().invoke(plan, [TRIAL, *SEED, *SPREAD, "--leave-out", "4", "-o", str(path), *more], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return path


def reported(*words: str) -> dict[str, list[dict[str, object]]]:
    done: Result = CliRunner().invoke(report, [TRIAL, *RECORDS, *words, "--json"], catch_exceptions=False)
    assert done.exit_code == 0, done.output
    found: dict[str, list[dict[str, object]]] = json.loads(done.stdout)
    return found


def test_the_verdicts_are_those_that_are_built_in(tmp_path: Path) -> None:
    answer = reported("--plan", str(planned(tmp_path)))
    verdicts = [(finding["verdict"], finding["overall"]) for finding in answer["findings"]]
    assert verdicts == [
        ("does it: clearly enough to matter", "did what it was meant to"),
        ("makes no difference that matters", "did not do what it was meant to"),
        ("does it: clearly enough to matter", "mixed"),
        ("too little to judge", "open"),
    ]
    # the plan leaves it out, so days do not judge it; without the plan nobody met it
    assert answer["findings"][3]["reason"] == "the plan sends it to a station or a clarity exercise, and days do not judge it"
    assert reported()["findings"][3]["reason"] == "nobody met it"
    ratio = answer["findings"][2]["rate_ratio"]
    assert isinstance(ratio, float)
    assert 0.55 < ratio < 0.85
    assert answer["findings"][0]["rate_ratio"] is None
    assert '"harmed"' in json.dumps(answer["findings"][2]["guards"])
    assert not answer["departures"]


def test_every_finding_holds_what_a_reader_needs(tmp_path: Path) -> None:
    answer = reported("--plan", str(planned(tmp_path)))
    members = {"change", "outcome", "unit", "estimate", "interval95", "interval90", "matters", "randomised_units", "rows", "verdict"}
    for finding in answer["findings"]:
        assert members | {"guards", "command"} <= set(finding)
        assert finding["randomised_units"] == 10
    assert answer["plan_stamp"]
    assert reported() == reported()


def test_a_plan_is_frozen_and_the_same_seed_throws_the_same_coin(tmp_path: Path) -> None:
    first = planned(tmp_path).read_bytes()
    assert planned(tmp_path).read_bytes() == first
    path = tmp_path / "plan.json"
    path.write_bytes(first.replace(b'"matters": 15', b'"matters": 5'))
    with pytest.raises(StudyError, match="altered after it was frozen"):
        Workroom().plan(path)


def test_a_trial_changed_after_its_plan_is_refused(tmp_path: Path) -> None:
    path = planned(tmp_path)
    changed = tmp_path / "four-changes.toml"
    changed.write_text(Path(TRIAL).read_text(encoding="utf-8").replace("matters = 15", "matters = 5"), encoding="utf-8")
    with pytest.raises(StudyError, match="changed after it was planned"):
        CliRunner().invoke(report, [str(changed), *RECORDS, "--plan", str(path)], catch_exceptions=False)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ([], "is not given"),
        ([*SPREAD, "--sd", "disputes=0.05", "--met", "4=0.01"], "station exercise"),
        ([*SPREAD, "--leave-out", "4", "--pairs", "4"], "6 are the fewest"),
        (["--sd", "search_s=60", "--sd", "relief_s=5", "--sd", "rulings=0.2", "--leave-out", "4"], "pairs would do"),
    ],
)
def test_a_plan_that_cannot_answer_is_refused_with_what_to_do(words: list[str], message: str) -> None:
    with pytest.raises(StudyError) as told:
        CliRunner().invoke(plan, [TRIAL, *SEED, *words], catch_exceptions=False)
    assert message in str(told.value)


def test_pace_from_groups_within_a_day_is_refused_with_the_design_to_use(tmp_path: Path) -> None:
    pace = tmp_path / "pace.toml"
    text = Path(TRIAL).read_text(encoding="utf-8").replace('outcome = "search_s", direction = "down", matters = 15', _PACE)
    pace.write_text(text, encoding="utf-8")
    with pytest.raises(StudyError) as told:
        CliRunner().invoke(
            plan, [str(pace), *SEED, "--within-a-day", *[w for n in "234" for w in ("--leave-out", n)]], catch_exceptions=False
        )
    assert "paired days of the whole field" in str(told.value)


_PACE = 'outcome = "round_min", direction = "down", matters = 5'


def test_the_report_is_a_page_and_a_print(tmp_path: Path) -> None:
    page, paper = tmp_path / "report.html", tmp_path / "report.pdf"
    for out in (page, paper):
        done = CliRunner().invoke(report, [TRIAL, *RECORDS, "-o", str(out)], catch_exceptions=False)
        assert done.exit_code == 0, done.output
    html = page.read_text(encoding="utf-8")
    assert html.count('<div class="strip">') == 6
    assert "harmed" in html
    assert " style=" not in html
    assert html.count('class="drawing"') == 2 * (6 + 2 + 3 + 4)  # wide and narrow: rows, head and foot, season and bands, key and answers
    assert "Content-Security-Policy" in html
    first = words_of(paper.read_bytes())
    for words in ("Trial of four changes", "did what it was meant to", "mixed", "nobody met it"):
        assert words in first


def test_a_plan_says_its_shape_and_one_that_does_not_is_read_too(tmp_path: Path) -> None:
    path = planned(tmp_path)
    content = json.loads(path.read_text(encoding="utf-8"))
    with_shape = Workroom().plan(path)
    assert content.pop("schema") == "marram.trial-plan/1"
    path.write_text(json.dumps(content), encoding="utf-8")
    assert Workroom().plan(path) == with_shape
    assert with_shape.stamp == content["plan_stamp"]


def test_a_plan_of_another_version_is_refused(tmp_path: Path) -> None:
    path = planned(tmp_path)
    path.write_text(path.read_text(encoding="utf-8").replace("marram.trial-plan/1", "marram.trial-plan/9"), encoding="utf-8")
    with pytest.raises(StudyError, match="marram.trial-plan/9"):
        Workroom().plan(path)


def test_who_was_asked_stands_in_text_answer_page_and_print(tmp_path: Path) -> None:
    """The demo season: of 250 asked of each band nine in ten, three in four and two in five hand in the form, about."""
    asked = ["--asked", str(EXAMPLES / "season" / "asked.csv")]
    first = reported(*asked)["findings"][0]["responses"]
    assert isinstance(first, list)
    (fair,) = first
    assert [(cell["kind"], cell["asked"]) for cell in fair["cells"]] == [("0 to 12", 250), ("13 to 22", 250), ("23 and over", 250)]
    heard = [cell["answered"] + cell["did_not_meet"] for cell in fair["cells"]]
    assert heard == [pytest.approx(225, abs=15), pytest.approx(187, abs=21), pytest.approx(100, abs=24)]
    assert fair["share"]["if_silent_said_worst"] < fair["share"]["weighted"] < fair["share"]["if_silent_said_best"]
    assert fair["warnings"] == [f"Of 23 and over fewer than half were heard from, {heard[2]} of 250: weights cannot put that right."]
    assert [finding["responses"] for finding in reported()["findings"]] == [[]] * 4
    text = CliRunner().invoke(report, [TRIAL, *RECORDS, *asked, "-o", str(tmp_path / "r.html")], catch_exceptions=False).stdout
    CliRunner().invoke(report, [TRIAL, *RECORDS, *asked, "-o", str(tmp_path / "r.pdf")], catch_exceptions=False)
    page, paper = (tmp_path / "r.html").read_text(encoding="utf-8"), words_of((tmp_path / "r.pdf").read_bytes())
    for told in (page, paper):
        assert "Who was asked, and who answered" in told
        assert f"23 and over: {heard[2]} of 250" in told
        assert f"{fair['share']['weighted']:.0%}" in told
    assert f"of 750 asked {fair['answered']} answered" in " ".join(text.split())
    assert "--asked asked.csv" in page
