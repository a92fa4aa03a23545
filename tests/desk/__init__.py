"""The desk: who comes in, what is answered, and how it stands in a browser."""
