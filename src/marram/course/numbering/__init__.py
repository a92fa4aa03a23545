"""Which green, tees and line of play make up which hole, on a survey that does not say."""
