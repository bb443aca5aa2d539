"""The window and its pages. They show answers and call actions; no rule lives here."""
