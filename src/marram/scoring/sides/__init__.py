"""Sides: who plays together, the handicap of a side that plays one ball, and the score of a side that plays several."""
