"""Cases on screen: logging a sighting, the list, and everything about one case."""
