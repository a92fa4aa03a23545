"""The guide for players: what it says, its frames, and how it is set for paper and screen."""
