"""The drawing of a ruling: what ground its map shows, the plan of the whole hole beside it, and the books in a row."""
