"""Rounds: what is due when, and which team looks at which room on which day."""
