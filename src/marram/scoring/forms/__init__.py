"""Forms of play as a book has them: what a hole counts, what ends it, how penalties are charged, and the result of one card."""
