"""Cards as they were returned, and the tees they were played from."""
