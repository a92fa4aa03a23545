"""A match play from the draw of its bracket to its winner."""
