"""Questions of an examination, each asked as an official asks it, and what is wrong with the answer.

A question has an id, an edition, a question in words, and what a right answer says: `said` in plain words, `expected` in values and closed
words of the rule data. It is asked by a command (`ask`), or by an incident on the ground of tests/support/edition_ground.py (`rule_on`).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from marram.core.errors import MarramError
from tests.published.adapter import Unfit
from tests.published.examination_asks import Answer, ask_command, ask_incident
from tests.published.examination_checks import CHECKS

LIST = "questions"
_NEEDED = {"id", "edition", "question", "expected", "rule", "source"}
_ASKS = {"ask", "rule_on"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question: what is asked under which edition, and what a right answer says.

    Attributes:
        name: Its id.
        edition: The edition under which it is asked.
        words: The question in words.
        ask: The command, without the book; empty where an incident is ruled on.
        incident: The incident; empty where a command is asked.
        expected: Values by the name of a check.
    """

    name: str
    edition: str
    words: str
    ask: tuple[str, ...]
    incident: Mapping[str, object]
    expected: Mapping[str, object]


def read_questions(content: Mapping[str, object]) -> list[Question]:
    """The questions of a file; none where it holds no such list.

    Raises:
        Unfit: One of them cannot be read.
    """
    entries = content.get(LIST) or []
    if not isinstance(entries, list):
        raise Unfit(f"{LIST}: expected a list")
    found = [_question(entry) for entry in entries]
    names = [question.name for question in found]
    if twice := sorted({name for name in names if names.count(name) > 1}):
        raise Unfit(f"{LIST}: two have the id {', '.join(twice)}")
    return found


def _question(entry: object) -> Question:
    if not isinstance(entry, dict) or not entry.keys() >= _NEEDED or len(_ASKS & entry.keys()) != 1:
        raise Unfit(f"{LIST}: expected {', '.join(sorted(_NEEDED))}, and ask or rule_on; found {entry!r}")
    expected = entry["expected"]
    if not isinstance(expected, dict) or not expected or not expected.keys() <= CHECKS.keys():
        raise Unfit(f"{LIST}, {entry['id']}: expected values named {', '.join(sorted(CHECKS))}; found {expected!r}")
    return Question(
        name=str(entry["id"]),
        edition=str(entry["edition"]),
        words=str(entry["question"]),
        ask=tuple(str(word) for word in entry.get("ask", ())),
        incident=entry.get("rule_on", {}),
        expected=expected,
    )


def faults_of(question: Question) -> list[str]:
    """What is wrong with the answer to a question; nothing where every value is as expected."""
    try:
        answer = _answer(question)
        return [fault for name, value in question.expected.items() for fault in CHECKS[name](name, value, answer)]
    except (MarramError, Unfit) as problem:
        return [f"no answer: {problem}"]


def _answer(question: Question) -> Answer:
    return ask_command(question.ask, question.edition) if question.ask else ask_incident(question.incident, question.edition)


def told(results: Sequence[tuple[Question, list[str]]]) -> Iterator[str]:
    """A line for each question with what is wrong, then the shares by edition."""
    for question, faults in results:
        yield f"{'FAILED' if faults else 'passed'}  {question.name}" + "".join(f"\n        {fault}" for fault in faults)
    for edition in dict.fromkeys(question.edition for question, _ in results):
        of_edition = [not faults for question, faults in results if question.edition == edition]
        yield f"{edition}: {sum(of_edition)} of {len(of_edition)} right"
