"""Strict reading of the rule data, with every fault of every file in one pass."""
