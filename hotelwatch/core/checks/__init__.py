"""Looking: places of a bed in order, what was looked at, the sheet for a team."""
