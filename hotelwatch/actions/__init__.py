"""What one can do: each function decides facts from the house and records them."""
