"""Values and sentences of the rule data in words, as a book in force tells them."""
