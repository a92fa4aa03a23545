"""marram book: the rules as data."""
