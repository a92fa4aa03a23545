"""What the desk works with: a folder of courses, trials and days by name, a case as it is stated, and what may have happened at a place."""
