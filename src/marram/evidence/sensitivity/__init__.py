"""What other ways of reckoning say beside a finding: models of the rows, trimmed days, days left out, what is missing filled in."""
