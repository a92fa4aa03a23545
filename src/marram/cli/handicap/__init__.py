"""marram handicap: an Index into strokes, strokes onto holes, scores into an Index."""
