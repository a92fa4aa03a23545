"""Handicaps: from scores to an Index, from an Index to strokes on holes. Pure functions in exact arithmetic; no store, clock or file."""
