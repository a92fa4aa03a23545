"""The marking of penalty areas: the edges tried all along, and the places where nowhere good is left to drop."""
