"""Drawings to scale: one scene in metres, drawn for the screen or for paper."""
