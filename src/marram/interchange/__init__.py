"""File formats: courses, incidents and rule books as files, and answers as JSON."""
