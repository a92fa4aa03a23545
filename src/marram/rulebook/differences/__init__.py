"""What differs between two books: computed from their values, and told in sentences."""
