"""Answers about exercises: who does what under which text, and what came of it."""
