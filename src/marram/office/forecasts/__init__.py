"""Jobs on forecasts: a trial played before anyone tees off, the days that would show it, and what becomes of dropped balls."""
