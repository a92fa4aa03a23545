"""Clarity exercises and stations: drawn, printed, and weighed when the tables come back."""
