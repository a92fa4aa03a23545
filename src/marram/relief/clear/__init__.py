"""Clear of a condition: the footprint of a player, the nearest point of complete relief, the maximum available."""
