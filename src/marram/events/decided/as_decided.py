"""The terms of an event with what was decided since: rounds cut short, the cut, and the order of play-offs and lots."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from marram.events.decided.cut_made import CutMade
from marram.events.decided.play_off import PlayOff
from marram.events.decided.round_counts import RoundCounts, counted_rounds
from marram.events.event_terms import EventTerms


def terms_as_decided(terms: EventTerms, counts: Iterable[RoundCounts], cut: CutMade | None, play_offs: Iterable[PlayOff]) -> EventTerms:
    """The terms as results are worked out by them now.

    Args:
        terms: The terms as they were set.
        counts: What was decided of rounds.
        cut: The cut; None where none was made.
        play_offs: The play-offs and lots that were held.
    """
    out = dict.fromkeys(cut.out, cut.after_round) if cut is not None else {}
    drawn = tuple(name for held in play_offs for name in held.order)
    ties = terms.terms.ties
    own = tuple(name for name in ties.drawn if name not in drawn)
    changed = replace(terms.terms, counted=counted_rounds(counts, out), ties=replace(ties, drawn=(*drawn, *own)))
    return replace(terms, terms=changed)
