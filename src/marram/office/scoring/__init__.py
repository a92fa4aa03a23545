"""Scoring jobs: cards and terms to places, and results as a table."""
