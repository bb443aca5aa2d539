"""The building: where rooms lie, and who is whose neighbour and why."""
