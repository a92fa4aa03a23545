"""Measured: what was written down in the field beside a clock or a tape."""
