"""A competition before its cards: who plays whom, and who starts when."""
