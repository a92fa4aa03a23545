"""Scoring: from cards and terms to places, each stroke that is charged with its rule. Pure functions; no store, clock or file."""
