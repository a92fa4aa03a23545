"""Planning a trial: a season rehearsed before it is played, and several changes laid over days."""
