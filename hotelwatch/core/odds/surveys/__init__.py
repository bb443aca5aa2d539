"""Surveys: how many rooms show what, which ones, and what looks just made have shown."""
