"""What an event leaves behind as evidence: its log, enquiries, pace, the records of a trial, and a season."""
