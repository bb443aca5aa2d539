"""What every page works with: what it is given, jobs, notices, papers, a person's choices."""
