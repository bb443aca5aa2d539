"""The invented demo hotel: its bookings, its story, its months of record."""
