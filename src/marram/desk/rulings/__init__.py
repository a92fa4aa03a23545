"""Rulings in processes of their own, so that a slow one stalls nobody."""
