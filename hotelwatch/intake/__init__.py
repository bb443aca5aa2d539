"""Reading files in: rosters, bookings and the shipped figures, as messy as they come."""
