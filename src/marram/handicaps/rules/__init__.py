"""Typed rules of handicapping, each read from a book once with the rules behind it; arithmetic takes them and never a book."""
