"""Write what was observed on the two club days of the demo."""
