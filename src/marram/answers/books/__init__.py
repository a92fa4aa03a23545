"""Answers about rule books: keys, facts, sources, differences, the audit."""
