"""The desk: the bench in a browser on this laptop. It shows what the office returns and decides nothing."""
