"""One table for every list: sort, filter as one types, copy, keys."""
