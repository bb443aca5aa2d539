"""The page of house rules: local set, single choices, the hotel's own figures, holidays."""
