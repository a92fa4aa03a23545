"""Rule books and overlays as files and spreadsheets."""
