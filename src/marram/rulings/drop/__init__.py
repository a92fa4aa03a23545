"""The drop: its states and steps, what a book makes of each event, and whether a ball was played from a right place."""
