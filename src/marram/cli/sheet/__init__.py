"""marram sheet: sheets for paper and screen."""
