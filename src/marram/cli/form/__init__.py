"""marram form: forms of play."""
