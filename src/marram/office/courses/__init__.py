"""Jobs on a surveyed course: bring it in, number its holes, check it and its marking, find places on it, draw it."""
