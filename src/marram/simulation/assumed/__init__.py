"""Assumed: the values that a forecast rests on and no rule states, each with its range and where it comes from."""
