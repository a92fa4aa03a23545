"""What the first page of a report tells: spoken sentences, effects on one scale, the season, what it rests on, answers."""
