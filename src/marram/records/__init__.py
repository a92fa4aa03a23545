"""What is recorded in the field and in simulation: the catalogue of outcomes, and the rows."""
