"""What the Committee decides while an event goes on, written into its store and seen in its results."""
