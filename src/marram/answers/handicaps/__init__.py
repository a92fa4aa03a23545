"""What jobs of handicaps give, as outsiders read it."""
