"""Every kind of answer there is, and its schema as it is published in `docs/formats/answers`."""

from __future__ import annotations

import json

from marram.answers.books.audit_answer import BookAuditAnswer
from marram.answers.books.compare_answer import BookComparisonAnswer
from marram.answers.books.key_answer import BookKeyAnswer, BookQuestionAnswer
from marram.answers.books.list_answer import BookFactsAnswer, BookListAnswer, BookSourcesAnswer
from marram.answers.courses.check_answer import CourseCheckAnswer
from marram.answers.courses.holes_answer import CourseHolesAnswer, CourseNumberedAnswer
from marram.answers.courses.import_answer import CourseImportAnswer
from marram.answers.courses.marking_answer import CourseMarkingAnswer
from marram.answers.courses.places_answer import CoursePlacesAnswer
from marram.answers.error_answer import ErrorAnswer
from marram.answers.events.decided_answer import (
    EventBracketAnswer,
    EventCountsAnswer,
    EventCutAnswer,
    EventMatchAnswer,
    EventPlayOffAnswer,
)
from marram.answers.events.enquiry_answer import EventEnquiriesAnswer
from marram.answers.events.event_answer import (
    EventDrawAnswer,
    EventHistoryAnswer,
    EventNewAnswer,
    EventRoundsAnswer,
    EventRulingAnswer,
    EventTakenAnswer,
    EventTimesAnswer,
)
from marram.answers.events.event_log_answer import EventEntryAnswer, EventObservedAnswer, EventRecordsAnswer
from marram.answers.events.event_pace_answer import EventPaceAnswer
from marram.answers.events.event_results_answer import EventResultsAnswer
from marram.answers.events.event_season_answer import EventSeasonAnswer
from marram.answers.events.store_answer import StoreAnswer
from marram.answers.exercises.exercise_answer import ClarityAnswer, ExercisePlanAnswer, StationsAnswer
from marram.answers.forecasts.drop_chances_answer import DropChancesAnswer
from marram.answers.forecasts.forecast_answer import ForecastAnswer
from marram.answers.handicaps.handicap_answer import HandicapAnswers
from marram.answers.handicaps.handicap_index_answer import HandicapIndexAnswers
from marram.answers.handicaps.rounds_answer import (
    HandicapAcceptAnswers,
    HandicapFormatAnswers,
    HandicapMostLikelyAnswers,
    StrokeIndexAnswer,
)
from marram.answers.rules.acts_answer import ActAnswers, ActsFound
from marram.answers.rules.ask_answer import AskAnswer
from marram.answers.rules.drop_answer import DropAnswers, DropEvents
from marram.answers.rules.form_answer import FormAnswers, Forms
from marram.answers.rules.object_answer import ObjectAnswers, ObjectsFound
from marram.answers.rules.ruling_answer import RulingAnswers, Situations
from marram.answers.rules.search_answer import SearchAnswers, SearchEvents
from marram.answers.rules.suspension_answer import SuspensionAnswers
from marram.answers.scores.score_answer import ScoreAnswers
from marram.answers.shape import Answer, json_schema, schema_name
from marram.answers.trials.draft_answer import TrialAnswer, TrialCheckAnswer, TrialOutcomesAnswer
from marram.answers.trials.guide_answer import GuideAnswer
from marram.answers.trials.papers_answer import TrialPapersAnswer
from marram.answers.trials.plan_answer import TrialPlanAnswer
from marram.answers.trials.report_answer import TrialReportAnswer
from marram.answers.trials.rerule_answer import RerulingAnswer

ANSWERS: tuple[type[Answer], ...] = (
    ErrorAnswer,
    BookListAnswer,
    BookKeyAnswer,
    BookQuestionAnswer,
    BookFactsAnswer,
    BookSourcesAnswer,
    BookComparisonAnswer,
    BookAuditAnswer,
    AskAnswer,
    RulingAnswers,
    Situations,
    ActAnswers,
    ActsFound,
    ObjectAnswers,
    ObjectsFound,
    SearchAnswers,
    SearchEvents,
    DropAnswers,
    DropEvents,
    DropChancesAnswer,
    FormAnswers,
    Forms,
    SuspensionAnswers,
    ScoreAnswers,
    EventNewAnswer,
    EventTakenAnswer,
    EventDrawAnswer,
    EventTimesAnswer,
    EventResultsAnswer,
    EventHistoryAnswer,
    EventRoundsAnswer,
    EventRulingAnswer,
    EventEntryAnswer,
    EventObservedAnswer,
    EventRecordsAnswer,
    EventCountsAnswer,
    EventCutAnswer,
    EventPlayOffAnswer,
    EventBracketAnswer,
    EventMatchAnswer,
    EventPaceAnswer,
    EventEnquiriesAnswer,
    EventSeasonAnswer,
    StoreAnswer,
    HandicapAnswers,
    HandicapIndexAnswers,
    HandicapAcceptAnswers,
    HandicapFormatAnswers,
    HandicapMostLikelyAnswers,
    StrokeIndexAnswer,
    CourseImportAnswer,
    CourseHolesAnswer,
    CourseNumberedAnswer,
    CourseCheckAnswer,
    CourseMarkingAnswer,
    CoursePlacesAnswer,
    TrialAnswer,
    TrialCheckAnswer,
    TrialOutcomesAnswer,
    ForecastAnswer,
    TrialPlanAnswer,
    TrialReportAnswer,
    TrialPapersAnswer,
    GuideAnswer,
    ExercisePlanAnswer,
    ClarityAnswer,
    StationsAnswer,
    RerulingAnswer,
)


def schema_file(kind: type[Answer]) -> str:
    """Name of the file of a kind's schema, without an ending, such as ``drop``."""
    return schema_name(kind).removeprefix("marram.").partition("/")[0]


def schema_text(kind: type[Answer]) -> str:
    """The schema of a kind of answer as the text of its file."""
    return json.dumps(json_schema(kind), sort_keys=True, ensure_ascii=False, indent=1) + "\n"
