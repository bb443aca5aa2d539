"""Workbooks that leave the hotel."""
