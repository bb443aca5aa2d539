"""Bookings: which room is let when, and when a room can be entered."""
