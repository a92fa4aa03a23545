"""marram desk: the bench in a browser."""
