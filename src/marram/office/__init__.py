"""Jobs that join several packages."""
