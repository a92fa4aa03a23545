"""Rulings: the facts of an incident, the options that a rule book gives, and the lines that explain them."""

from marram.rulings.case.incident import Choice, Incident, Player, PreviousStroke
from marram.rulings.case.ruling import Option, Ruling
from marram.rulings.rule_on import rule_on

__all__ = ["Choice", "Incident", "Option", "Player", "PreviousStroke", "Ruling", "rule_on"]
