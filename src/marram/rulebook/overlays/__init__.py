"""Overlays: trials, local rules and clarifications on top of an edition, and what they may add."""
