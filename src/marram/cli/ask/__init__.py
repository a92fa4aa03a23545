"""marram ask: anything, found by words."""
