"""Events as outsiders read them: what was begun, taken in, drawn, timed and scored, and what a store holds."""
