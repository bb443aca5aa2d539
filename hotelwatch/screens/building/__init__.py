"""The building page: a floor as it lies, all rooms, one room; and loading roster and bookings."""
