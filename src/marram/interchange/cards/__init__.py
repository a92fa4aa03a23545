"""Cards and the terms of a competition as files: tables in, terms as TOML, results as a table."""
