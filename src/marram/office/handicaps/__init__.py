"""Jobs of handicaps: an Index into strokes, strokes onto holes, scores into an Index, each under every book that is asked."""
