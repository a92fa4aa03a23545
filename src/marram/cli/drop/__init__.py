"""marram drop: a drop, step by step."""
