"""From the words of a procedure to the ground: reference points, shapes, and what stands in the way."""
