"""marram forecast: what a trial is expected to do, before anyone tees off."""
