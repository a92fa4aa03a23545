"""The terms of a competition: form of play, net or gross, target or maximum, sides, and how ties are decided."""
