"""Papers of a trial: what stands on them is what the trial observes, and they can be written on."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pypdfium2
import pytest

from marram.core.errors import DataError, RecordError, StudyError
from marram.evidence.plan import DrawnPair
from marram.office.trials import trial_papers
from marram.office.trials.plan_trial import ReadPlan
from marram.office.trials.planned_trial import DrawnUnit, trial_stamp
from marram.office.trials.trial_papers import make_papers, papers_file
from marram.office.workroom import Workroom
from marram.records.outcomes import Per, outcomes
from marram.records.recording import Recorder, outcome_written, written_outcomes
from marram.records.rows import Arm
from marram.sheets.pages.papers_sheet import RecordingSheet, RulesTold, TrialPapers
from tests.support.pdf_reading import page_mm, paths_mm, words_of
from tests.support.seasons import trial_of

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"
EVERYTHING = trial_of({"observes": "[" + ", ".join(f'"{key}"' for key in outcomes()) + "]", "asks": '["Was it clear?"]'})
LEAST_LINE_MM = 8.0


def four_changes(frozen: ReadPlan | None = None) -> TrialPapers:
    room = Workroom()
    return make_papers(room.trial(EXAMPLES / "trials" / "four-changes.toml"), room.book("2023"), frozen)


def everything(frozen: ReadPlan | None = None) -> TrialPapers:
    return make_papers(EVERYTHING, Workroom().book("2023"), frozen)


def written_on(sheets: tuple[RecordingSheet, ...]) -> dict[str, str]:
    """Each column that a value is written in, with how."""
    return {column.heading: column.how for sheet in sheets for table in sheet.tables for column in table.columns if column.how}


def plan_of(*units: DrawnUnit) -> ReadPlan:
    return ReadPlan(stamp="0000 0000", trial_stamp=trial_stamp(EVERYTHING), pairs=(), drawn=units)


def test_every_outcome_can_be_written_down() -> None:
    assert set(written_outcomes()) == set(outcomes())
    for key, one in written_outcomes().items():
        assert one.outcome.key == key
        assert one.outcome.is_answer is (one.recorder is Recorder.FORM and key not in {"change_met", "change_used"})
        assert (one.outcome.unit == "step") is (len(one.ends) == 2)


def test_what_the_example_observes_stands_on_the_paper_of_who_sees_it() -> None:
    """Read off examples/trials/four-changes.toml by hand; searches are counted because a search is timed."""
    papers = four_changes()
    columns = {sheet.title: list(written_on((sheet,))) for sheet in papers.sheets}
    assert columns == {
        "Starter and last green": ["Started", "Holed out on the last green"],
        "Observer with a group": ["Searches", "Time of the search", "Decision to ball in play"],
        "Referee": ["Rulings asked for", "Not accepted, or to the Committee"],
        "From the cards": ["Strokes, penalty strokes included", "Penalty strokes"],
    }
    asked = [question.text for question in papers.form[0].questions]
    assert asked == [
        "How often did it come up for you today?",
        "Is it fairer than the rule that it replaces?",
        "Did two minutes leave you enough time to find a ball?",
    ]
    assert papers.form[0].told == "Time allowed for looking for a ball before it is lost: 2 minutes instead of 3 minutes."
    assert papers.form_version == "2026-03-01"


def test_how_a_value_is_written_and_within_which_range_is_the_catalogues() -> None:
    """From the catalogue: a search 0 to 600 s, relief 5 to 900 s, waiting 0 to 240 min, a hole 2 to 60 min, strokes 50 to 250."""
    how = written_on(everything().sheets)
    assert how["Time of the search"] == "min:s, 0:00 to 10:00"
    assert how["Decision to ball in play"] == "min:s, 0:05 to 15:00"
    assert how["Waiting for the group ahead"] == "h:min, 0:00 to 4:00"
    assert how["Time on the hole"] == "minutes, 2 to 60"
    assert how["Strokes, penalty strokes included"] == "strokes, 50 to 250"
    assert how["Old spot to where it rests"] == "metres, 0 to 60"
    assert how["Rulings asked for"] == "how many, 0 to 30"
    assert how["Found in time"] == "yes or no"
    assert how["Started"] == "times of day, h:min"


def test_a_line_has_what_its_row_of_the_table_of_values_needs() -> None:
    names = {
        table.title: [column.heading for column in table.columns if not column.how]
        for sheet in everything().sheets
        for table in sheet.tables
    }
    assert names["A line for each search"] == ["Group", "Player", "Hole", "Query"]
    assert names["A line for each hole"] == ["Group", "Hole", "Query"]
    assert names["A line for each player"] == ["Group", "Player", "Query"]
    assert len(names) == len([per for per in Per if per is not Per.ANSWER])
    about = {column.heading: column.about for sheet in everything().sheets for table in sheet.tables for column in table.columns}
    assert (about["Time of the search"], about["Time on the hole"]) == ("change 1", "")


def test_cautions_stand_where_somebody_stands_on_the_course() -> None:
    for sheet in everything().sheets:
        on_the_course = sheet.title in {"Observer with a group", "Referee"}
        assert len(sheet.cautions) == 2 * on_the_course
        if on_the_course:
            assert "Lightning" in sheet.cautions[0]
            assert sheet.cautions[1].startswith("People in range")
            assert all("Committee" in line for line in sheet.cautions)


def test_a_question_is_answered_in_steps_only_where_the_draft_says_so() -> None:
    steps, yes_or_no = everything().form[0].questions[-1], four_changes().form[0].questions[-1]
    assert steps.answers == ("not at all", "", "", "", "quite so")
    assert yes_or_no.answers == ("yes", "no")


def calendar_lines(*units: DrawnUnit) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    calendar = everything(plan_of(*units)).calendar
    assert calendar is not None
    return tuple(head.text for head in calendar.heads), calendar.lines


def test_where_rules_differ_within_a_day_each_line_says_them_and_the_calendar_lists_groups() -> None:
    units = [
        DrawnUnit(unit=f"e1 g{number}", rules=rules, day="e1", group=f"g{number}", period="morning")
        for number, rules in enumerate([(Arm.TRIAL, Arm.ORDINARY), (Arm.ORDINARY, Arm.TRIAL), (Arm.TRIAL, Arm.ORDINARY)])
    ]
    papers = everything(plan_of(*units))
    assert papers.rules_told is RulesTold.LINE
    assert papers.has_rounds
    assert "Round" in words_of(papers_file(papers, ".pdf")).split()
    assert not everything(plan_of(DrawnUnit(unit="e1 g1", rules=(Arm.TRIAL,), day="e1", group="g1"))).has_rounds
    heads, lines = calendar_lines(*units)
    assert heads == ("Day", "Date", "Trial in the first round", "Ordinary in the first round")
    assert lines == (("e1, morning", "", "g0, g2", "g1"),)
    assert all("Rules" in [column.heading for column in table.columns] for sheet in papers.sheets for table in sheet.tables)
    assert "Rules trial ordinary" not in words_of(papers_file(papers, ".pdf"))
    assert "Rules trial ordinary" in words_of(papers_file(everything(), ".pdf"))


def test_the_calendar_of_days_with_some_of_the_changes() -> None:
    units = [
        DrawnUnit(unit="d1", rules=(Arm.TRIAL,), day="d1", period="b1", changes=(1, 3)),
        DrawnUnit(unit="d2", rules=(Arm.ORDINARY,), changes=()),
    ]
    papers = everything(plan_of(*units))
    assert papers.rules_told is RulesTold.CHANGES
    assert [line[:4] for line in calendar_lines(*units)[1]] == [("d1", "", "b1", "1, 3"), ("d2", "", "", "none")]
    words = words_of(papers_file(papers, ".pdf"))
    assert "Changes on" in words
    assert "Rules trial ordinary" not in words


def test_the_calendar_of_a_roll_out_has_a_column_for_each_period() -> None:
    units = [
        DrawnUnit(unit="Moor", rules=(Arm.ORDINARY, Arm.TRIAL, Arm.TRIAL)),
        DrawnUnit(unit="Hollow", rules=(Arm.ORDINARY, Arm.ORDINARY, Arm.TRIAL)),
    ]
    heads, lines = calendar_lines(*units)
    assert heads == ("Course", "Period 1", "Period 2", "Period 3")
    assert lines == (("from, to", "", "", ""), ("Moor", "ordinary", "trial", "trial"), ("Hollow", "ordinary", "ordinary", "trial"))
    assert everything(plan_of(*units)).rules_told is RulesTold.DAY


def test_the_calendar_of_halves_and_of_single_days() -> None:
    heads, lines = calendar_lines(DrawnUnit(unit="d1", day="d1", rules=(Arm.ORDINARY, Arm.TRIAL)))
    assert heads == ("Drawn", "First round", "Date", "Second round", "Date", "Course, and what was not alike")
    assert lines == (("d1", "ordinary", "", "trial", "", ""),)
    heads, lines = calendar_lines(DrawnUnit(unit="d1", day="d1", rules=(Arm.TRIAL,)))
    assert (heads, lines) == (("Drawn", "First round", "Date", "Course, and what was not alike"), (("d1", "trial", "", ""),))


def lines_of(pdf: bytes, page: int) -> list[float]:
    """Heights at which level strokes of a centimetre or more lie, millimetres from the bottom."""
    found = set()
    for path in paths_mm(pdf, page):
        across, up = [x for x, _ in path], [y for _, y in path]
        if max(across) - min(across) >= 10 and max(up) - min(up) < 0.6:
            found.add(round(up[0], 1))
    return sorted(found)


@pytest.mark.parametrize("made", [four_changes, everything])
def test_every_page_is_a4_full_and_can_be_written_on(made: object) -> None:
    assert callable(made)
    pdf = papers_file(made(), ".pdf")
    document = pypdfium2.PdfDocument(pdf)
    for number in range(len(document)):
        assert sorted(page_mm(pdf, number)) == pytest.approx([210, 297], abs=0.5)
        assert min(round(one, 1) for one in _sizes(document[number])) >= 9
        if page_mm(pdf, number)[0] > 250:  # the Committee's page lies across, and ends in a list to read
            continue
        heights = lines_of(pdf, number)
        gaps = [high - low for low, high in zip(heights, heights[1:], strict=False)]
        assert sum(LEAST_LINE_MM < gap < 12.5 for gap in gaps) >= 7
        # Full from top to bottom: nowhere is a fifth of a page without a line to write on.
        assert max(gaps) < 45
        assert heights[-1] > 260


def _sizes(page: pypdfium2.PdfPage) -> list[float]:
    text = page.get_textpage()
    return [
        pypdfium2.raw.FPDFText_GetFontSize(text.raw, place) for place in range(text.count_chars()) if text.get_text_range(place, 1).strip()
    ]


def test_print_holds_no_raw_key_and_no_seed_and_is_the_same_each_time() -> None:
    pdf = papers_file(everything(), ".pdf")
    assert papers_file(everything(), ".pdf") == pdf
    words = words_of(pdf)
    assert not re.search(r"[a-z]_[a-z]", words)
    assert not [key for key in outcomes() if "_" in key and key in words]
    assert "checked = yes" not in words


def test_papers_of_another_trial_or_in_another_form_are_refused() -> None:
    with pytest.raises(StudyError, match="changed after it was planned"):
        four_changes(plan_of())
    with pytest.raises(DataError, match="cannot be written as"):
        papers_file(four_changes(), ".html")
    with pytest.raises(StudyError, match="observes nothing"):
        make_papers(trial_of({}), Workroom().book("2023"), None)


def test_the_calendar_of_pairs_says_the_rules_of_each_day_in_order() -> None:
    pairs = (DrawnPair(pair="p1", first=Arm.TRIAL, second=Arm.ORDINARY), DrawnPair(pair="p2", first=Arm.ORDINARY, second=Arm.TRIAL))
    calendar = everything(ReadPlan(stamp="0000 0000", trial_stamp=trial_stamp(EVERYTHING), pairs=pairs)).calendar
    assert calendar is not None
    assert calendar.lines == (("p1", "trial", "", "ordinary", "", ""), ("p2", "ordinary", "", "trial", "", ""))
    assert [(row.unit, row.rules) for row in calendar.drawn] == [("p1", ("trial", "ordinary")), ("p2", ("ordinary", "trial"))]


def test_long_and_many_changes_leave_room_to_write(monkeypatch: pytest.MonkeyPatch) -> None:
    """The observer of the example sees changes 1 and 2; the second takes 151 letters to tell."""
    monkeypatch.setattr(trial_papers, "_LONGEST_TOLD", 100)
    (observer,) = [sheet for sheet in four_changes().sheets if sheet.title == "Observer with a group"]
    assert observer.tried[0].endswith("2 minutes instead of 3 minutes.")
    assert observer.tried[1] == "2. Height from which a dropped ball is let go, and how the player holds it."
    monkeypatch.setattr(trial_papers, "_MOST_TOLD", 1)
    (observer,) = [sheet for sheet in four_changes().sheets if sheet.title == "Observer with a group"]
    assert observer.tried == ("Changes 1, 2 are seen here; the guide of the trial tells them.",)


PAIRS = (DrawnPair(pair="p1", first=Arm.TRIAL, second=Arm.ORDINARY), DrawnPair(pair="p2", first=Arm.ORDINARY, second=Arm.TRIAL))


def days_sheet(frozen: ReadPlan | None) -> tuple[list[str], list[tuple[str, ...]]]:
    """The names of the columns of the table of days, without their units, and its lines without what is written in by hand."""
    days = everything(frozen).days
    names = [head.text.partition(" (")[0] for head in days.heads]
    return names, [line[:4] for line in days.lines]


def test_the_page_of_days_has_the_columns_that_the_report_reads_and_the_lines_that_were_drawn() -> None:
    frozen = ReadPlan(stamp="0000 0000", trial_stamp=trial_stamp(EVERYTHING), pairs=PAIRS)
    names, lines = days_sheet(frozen)
    assert names == [
        *("Day", "Date", "Pair", "Rules", "Course", "Field", "Start interval", "Wind", "Rain", "Green speed", "Hole locations", "Note")
    ]
    assert lines[:4] == [("", "", "p1", "trial"), ("", "", "p1", "ordinary"), ("", "", "p2", "ordinary"), ("", "", "p2", "trial")]
    assert lines[4:] == [("", "", "", "")] * 2
    groups = [DrawnUnit(unit=f"g{n}", rules=(Arm.TRIAL, Arm.ORDINARY), day="e1", group=f"g{n}", period="morning") for n in range(3)]
    names, lines = days_sheet(plan_of(*groups))
    assert "Wash-out" in names
    assert lines == [("e1", "", "", "both"), ("", "", "", ""), ("", "", "", "")]
    some = [DrawnUnit(unit="d1", rules=(Arm.TRIAL,), period="b1", changes=(1, 3)), DrawnUnit(unit="d2", rules=(Arm.ORDINARY,), changes=())]
    names, lines = days_sheet(plan_of(*some))
    assert names[2:4] == ["Period", "Changes"]
    assert lines[:2] == [("d1", "", "b1", "1, 3"), ("d2", "", "", "none")]
    assert days_sheet(plan_of(DrawnUnit(unit="d1", day="d1", rules=(Arm.TRIAL,))))[1][0] == ("d1", "", "", "trial")
    for blank in (None, plan_of(DrawnUnit(unit="Moor", rules=(Arm.ORDINARY, Arm.TRIAL, Arm.TRIAL)))):
        assert set(days_sheet(blank)[1]) == {("", "", "", "")}


def test_a_part_of_the_day_has_a_place_where_groups_were_drawn_for_it() -> None:
    waves = plan_of(DrawnUnit(unit="e1 g1", rules=(Arm.TRIAL,), day="e1", group="g1", period="morning"))
    assert words_of(papers_file(everything(waves), ".pdf")).count("Part of the day") > 4
    assert "Part of the day _" not in words_of(papers_file(everything(), ".pdf"))
    assert not everything(plan_of(DrawnUnit(unit="d1", rules=(Arm.TRIAL,), day="d1", period="b1", changes=(1,)))).has_parts


def typed_value(how: str) -> dict[str, str]:
    """A value as somebody would type it from a paper that says how it is written."""
    if "under from" in how:
        return {"from": "9:10", "to": "13:05"}
    kinds = {"min:s": "1:40", "h:min": "0:30", "yes or no": "yes", "minutes": "12", "metres": "2", "strokes, 50": "90"}
    return {"value": next((value for start, value in kinds.items() if how.startswith(start)), "4")}


@pytest.mark.parametrize("design", ["pairs", "none"])
def test_what_is_written_on_the_papers_is_typed_in_by_their_words_and_read(tmp_path: Path, design: str) -> None:
    """Every outcome of the catalogue, once: the headings of the page of days and of its list are all that is typed."""
    frozen = ReadPlan(stamp="0000 0000", trial_stamp=trial_stamp(EVERYTHING), pairs=PAIRS) if design == "pairs" else None
    days = everything(frozen).days
    names = [head.text.partition(" (")[0] for head in days.heads]
    drawn = [(belongs, rules) for _, _, belongs, rules, *_ in days.lines if belongs] or [("p1", "trial"), ("p1", "ordinary")]
    lines = [f"d{n},2026-04-{n + 4:02d},{pair},{rules}{',' * (len(names) - 4)}" for n, (pair, rules) in enumerate(drawn)]
    (tmp_path / "days.csv").write_text("\n".join([",".join(names), *lines]) + "\n", encoding="utf-8")
    columns = ["day", "outcome", "group", "player", "hole", "change", "form", "question", "value", "from", "to"]
    with (tmp_path / "values.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, columns, restval="")
        table.writeheader()
        named = {"day": "d0", "group": "g1", "player": "a", "hole": "3", "change": "1", "form": "2026-03-01", "question": "1"}
        for row in days.typed:
            outcome = next(key for key, one in written_outcomes().items() if one.called == row.called)
            kept = (
                {"day", *named}
                - (set() if outcomes()[outcome].is_answer else {"form"})
                - ({"question"} if "asked" not in outcome else set())
            )
            table.writerow({name: named[name] for name in kept} | {"outcome": row.called} | typed_value(row.how))
    records = Workroom().records(tmp_path / "days.csv", tmp_path / "values.csv", EVERYTHING)
    asked = {"asked_yes"}  # the trial's own question is answered in steps, since it observes asked_step
    assert {one.outcome for one in records.observations} == set(outcomes()) - asked


def test_several_questions_of_a_change_have_their_numbers_and_a_single_one_has_none() -> None:
    asked = trial_of({"observes": '["fair"]', "asks": '["Was it quick?", "Was it clear?"]'})
    texts = [question.text for question in make_papers(asked, Workroom().book("2023"), None).form[0].questions]
    assert texts[-2:] == ["Question 1. Was it quick?", "Question 2. Was it clear?"]
    assert everything().form[0].questions[-1].text == "Was it clear?"


def test_two_times_of_day_are_typed_each_under_its_own_column() -> None:
    (row,) = [row for row in everything().days.typed if row.called == "Round"]
    assert row.how == "“Started” under from, “Holed out on the last green” under to"


def test_every_name_that_is_typed_stands_over_a_column_or_is_a_question() -> None:
    papers = everything()
    headings = {column.heading for sheet in papers.sheets for table in sheet.tables for column in table.columns}
    questions = {question.text for part in papers.form for question in part.questions}
    for row in papers.days.typed:
        one = next(one for one in written_outcomes().values() if one.called == row.called)
        assert set(one.between or (row.called,)) <= headings | questions or row.called.startswith("Own question")
    called = [one.called.casefold() for one in written_outcomes().values()]
    assert len(set(called)) == len(called) == len(outcomes())
    assert not set(called) & set(outcomes()) - {"searches"}
    assert outcome_written(" time of  THE search").key == "search_s"
    assert outcome_written("strokes").key == "strokes"
    with pytest.raises(RecordError, match="no outcome"):
        outcome_written("Time of the walk")
