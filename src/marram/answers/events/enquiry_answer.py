"""Enquiries as outsiders read them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Literal

from marram.answers.shape import Answer, Shape

if TYPE_CHECKING:
    from marram.office.event_records.enquiries import FoundEnquiry


class EnquiryShape(Shape, frozen=True, kw_only=True):
    """A question that was put to an official.

    Attributes:
        enquiry: Its name.
        asked_by: Who asked.
        question: What was asked, or what happened.
        answer: What was answered or ruled; empty while nothing is.
        book: The book of the answer; empty while there is none.
        stamp: Its stamp.
        follow_up: What is still to be done, or came of it.
        event: The event that it came up in; empty where there was none.
        who: Who wrote it down last.
        at: When, ISO 8601 in UTC.
    """

    enquiry: str
    asked_by: str
    question: str
    answer: str
    book: str
    stamp: str
    follow_up: str
    event: str
    who: str
    at: str


class EventEnquiriesAnswer(Answer, frozen=True, kw_only=True):
    """Enquiries that were found, the latest first.

    Attributes:
        schema: Name and version of this shape.
        enquiries: The enquiries.
    """

    schema: Literal["marram.event-enquiries/1"] = "marram.event-enquiries/1"
    enquiries: tuple[EnquiryShape, ...]


def enquiries_answer(found: Iterable[FoundEnquiry]) -> EventEnquiriesAnswer:
    """Enquiries that were found."""
    return EventEnquiriesAnswer(
        enquiries=tuple(
            EnquiryShape(
                enquiry=one.enquiry.id,
                asked_by=one.enquiry.asked_by,
                question=one.enquiry.question,
                answer=one.enquiry.answer,
                book=one.enquiry.book,
                stamp=one.enquiry.stamp,
                follow_up=one.enquiry.follow_up,
                event=one.enquiry.event,
                who=one.who,
                at=one.at,
            )
            for one in found
        )
    )
