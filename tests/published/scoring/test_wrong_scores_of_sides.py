"""Hole scores of four-ball partners that were found to be wrong, and cards not certified: what becomes of the side."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from marram.core.terms import Form
from marram.scoring.cards.card import Card, CardStatus, Correction
from marram.scoring.competition.terms_of_competition import Sides
from tests.support.scored_cards import PAR, card, results

HELD = yaml.safe_load((Path(__file__).parent / "wrong-scores-of-sides.yaml").read_text(encoding="utf-8"))
FACTS = {"kept_silent": "was_told_or_unsure_and_kept_silent", "is_disqualification": "penalty_left_out_is_disqualification"}


def partner(name: str, told: dict[str, Any]) -> Card:
    shown = told.get("hole 5", 4)
    gross = [*PAR[:4], None if shown == "none" else shown, told.get("hole 6", 4), *PAR[6:]]
    facts = frozenset(fact for word, fact in FACTS.items() if told.get(word))
    found = [Correction(hole=5, actual=told["taken"], left_out=told.get("left_out"), facts=facts)] if "taken" in told else []
    found += [Correction(hole=6, actual=told["taken on 6"])] if "taken on 6" in told else []
    status = CardStatus.WITHDRAWN if told.get("is_withdrawn") else CardStatus.RETURNED
    signed = {"is_certified_by_player": told.get("signed", True), "is_certified_by_marker": told.get("marked", True)}
    return card(name, gross, told.get("handicap"), **{"side": "AB", "corrections": tuple(found), "status": status, **signed})


@pytest.mark.parametrize("edition", ["2016", "2019", "2023"])
@pytest.mark.parametrize("example", HELD["examples"], ids=lambda example: str(example["why"]))
def test_wrong_scores_of_sides(example: dict[str, Any], edition: str) -> None:
    cards = [partner(name, told) for name, told in example["partners"].items()]
    (side,) = results(edition, Form(example["form"]), cards, sides=Sides.FOUR_BALL, is_net=example.get("is_net", False)).ranked
    assert ("out" if side.status is CardStatus.DISQUALIFIED else side.total) == example["total"]
    assert all(decision.citations for decision in side.decisions)


def test_a_book_that_does_not_say_so_disqualifies_for_any_wrong_score() -> None:
    """The draft of March 2017 states nothing of partners' cards, so the general Rule stands alone."""
    cards = [partner("A", {"hole 5": 6, "taken": 7}), partner("B", {})]
    assert results("draft-2017", Form.STROKE_PLAY, cards, sides=Sides.FOUR_BALL).ranked[0].status is CardStatus.DISQUALIFIED
