"""The scene in metres: shapes, window, inks, words, and how it is made into SVG, PDF or a picture."""
