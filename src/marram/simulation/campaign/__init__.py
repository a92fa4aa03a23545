"""The campaign: many days under several books with shared draws, summed up day by day, and the effects that they show."""
