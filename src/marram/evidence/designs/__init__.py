"""Designs of a trial besides paired days: how each compares what was recorded, and what it queries."""
