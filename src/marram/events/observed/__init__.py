"""What officials and observers write down on the day of an event besides cards, and the values of a trial that come of it."""
