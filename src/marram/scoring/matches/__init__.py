"""Match play: holes won, the state of a match, its result in words, concessions, and a handicap wrongly declared."""
