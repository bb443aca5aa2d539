"""Cases: from a sighting to an honest release, each stage derived from facts."""
