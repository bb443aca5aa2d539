"""The month's page: what its book will say, and the book itself."""
