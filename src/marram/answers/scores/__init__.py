"""Results of competitions as outsiders read them."""
