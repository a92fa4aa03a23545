"""`marram event enquire` and `enquiries`: questions and rulings outside an event, kept and found again by words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import hand_of, reason_option, store_option, who_option
from marram.core.words import visible

if TYPE_CHECKING:
    from marram.answers.events.enquiry_answer import EnquiryShape


@click.command()
@click.argument("question", default="")
@click.option("--asked-by", default="", metavar="NAME", help="Who asks; a role is enough, such as a player of the second division.")
@click.option("--answer", default="", metavar="WORDS", help="What was answered or ruled.")
@click.option("--book", default="", metavar="BOOK", help="The book of the answer; the edition in force if none. Its stamp is kept.")
@click.option("--follow-up", default="", metavar="WORDS", help="What is still to be done, or came of it.")
@click.option("--event", "event", default="", metavar="NAME", help="The event that it came up in; left out where there was none.")
@click.option("--name", default="", metavar="NAME", help="Add to an enquiry that stands, such as E7.")
@click.option("--strike", is_flag=True, help="Strike out the enquiry of that name, with --reason.")
@store_option
@who_option
@reason_option
@json_option
def enquire(
    question: str,
    *,
    asked_by: str,
    answer: str,
    book: str,
    follow_up: str,
    event: str,
    name: str,
    strike: bool,
    store_at: str,
    who: str | None,
    reason: str,
    as_json: bool,
) -> None:
    """Write down a QUESTION that was put to an official, or what was ruled, where there is no event or besides it."""
    from marram.answers.events.enquiry_answer import enquiries_answer
    from marram.answers.shape import json_text
    from marram.cli.common import edition_in_force
    from marram.office.event_records.enquiries import EnquiryAsked, FoundEnquiry, keep_enquiry
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at, is_new=not name)
    hand = hand_of(who)
    asked = EnquiryAsked(
        name=name,
        asked_by=asked_by,
        question=question,
        answer=answer,
        follow_up=follow_up,
        event=event,
        is_struck=strike,
        reason=reason,
    )
    kept = keep_enquiry(store, hand, asked, room.book(book or edition_in_force()))
    found = enquiries_answer([FoundEnquiry(enquiry=kept, who=hand.who, at=hand.clock())])
    click.echo(json_text(found) if as_json else visible("\n".join(_lines(found.enquiries[0]))))


@click.command()
@click.argument("words", nargs=-1)
@store_option
@json_option
def enquiries(words: tuple[str, ...], *, store_at: str, as_json: bool) -> None:
    """Find enquiries in which all WORDS stand, the latest first; without words list them all."""
    from marram.answers.events.enquiry_answer import enquiries_answer
    from marram.answers.shape import json_text
    from marram.office.event_records.enquiries import find_enquiries
    from marram.office.workroom import Workroom

    found = enquiries_answer(find_enquiries(Workroom().store(store_at), words))
    if as_json:
        click.echo(json_text(found))
        return
    lines = [line for one in found.enquiries for line in _lines(one)]
    click.echo(visible("\n".join(lines)) if lines else "There is no such enquiry.")


def _lines(one: EnquiryShape) -> list[str]:
    of = f" ({one.event})" if one.event else ""
    under = f", under {one.book} [{one.stamp}]" if one.book else ""
    lines = [f"{one.enquiry}  {one.at[:16]}  {one.asked_by}{of} asks: {one.question}"]
    lines += [f"      answered{under}: {one.answer}"] if one.answer else ["      not answered yet"]
    return lines + ([f"      to follow: {one.follow_up}"] if one.follow_up else [])
