"""What every page has at hand: the hotel, jobs, notices, papers, a person's choices."""
