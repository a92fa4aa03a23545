"""marram rule: a ruling on a ball."""
