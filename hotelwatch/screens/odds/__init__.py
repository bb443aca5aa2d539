"""The page of odds: rooms to look at next, the hotel, cycles, surveys, blind trials, figures."""
