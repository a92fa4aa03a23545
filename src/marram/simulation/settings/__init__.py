"""Settings: what of a rule book the simulation plays, as plain values, and which keys it reads for that."""
