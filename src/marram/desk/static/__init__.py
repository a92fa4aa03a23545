"""What a page fetches besides itself: its style and its scripts, all of our own."""
