"""What people and things do: acts and what they lead to, things met, the search, forms of play, play stopped."""
