"""Front desk's page: what not to sell, whom it touches, what was let all the same."""
