"""The table of letter widths by which drawings keep words apart, made from font files."""
