"""marram event: the log of the day, pace, enquiries, and the records that leave the store."""
