"""Simulation: a day of play under a rule book, with every change played, played by an assumption, or told as not played."""
