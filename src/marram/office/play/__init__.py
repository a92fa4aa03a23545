"""Jobs about play: rulings, acts, things, the search, the drop, forms of play, play stopped, and what is asked in words."""
