"""Places: who comes before whom, and what decided between equal scores."""
