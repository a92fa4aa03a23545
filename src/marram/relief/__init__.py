"""Working out where a ball may be dropped: exact discs and crescents, lines, nearest points of complete relief."""
