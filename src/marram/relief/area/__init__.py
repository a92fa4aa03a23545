"""Relief areas: discs, crescents, bands and lines, their limits and their exact areas."""
