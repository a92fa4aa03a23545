"""Jobs on rule books: list, show, compare, audit, and the workbook to fill in."""
