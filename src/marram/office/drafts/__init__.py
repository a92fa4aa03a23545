"""A trial written step by step: its file kept line by line, a rule found in words, its new value, what that touches, on real ground."""
