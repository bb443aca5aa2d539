"""Today's page: what must happen today, at a glance, and the way to each of it."""
