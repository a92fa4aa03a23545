"""Open map data and GeoJSON from elsewhere, made into a course."""
