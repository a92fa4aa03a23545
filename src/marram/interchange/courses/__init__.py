"""Course files, and what officials bring to them: walks, sheets of tees and of hole locations, the table of holes."""
