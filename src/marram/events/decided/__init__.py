"""What the Committee decides while an event goes on: rounds cut short, the cut, play-offs, two balls, and what closing leaves open."""
