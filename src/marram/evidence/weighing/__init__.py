"""From records to findings: odd rows queried, every row accounted for, and what days cannot tell apart kept together."""
