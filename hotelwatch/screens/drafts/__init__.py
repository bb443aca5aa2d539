"""What is half entered, kept against a crash."""
