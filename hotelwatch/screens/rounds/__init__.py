"""The rounds' page: teams, cycles, a draft and what is published."""
