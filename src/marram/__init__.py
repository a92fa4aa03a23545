"""Marram: a bench for rules officials. Rule books as data, exact relief on a surveyed course, rulings with their rules."""

__version__ = "0.1.0"
