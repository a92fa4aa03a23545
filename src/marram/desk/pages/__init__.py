"""Pages and JSON answers: an address in, text out; they run where rulings are made."""
