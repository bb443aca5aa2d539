"""Pieces of forms: labelled fields, what stands in them, a PIN."""
