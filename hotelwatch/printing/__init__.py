"""Sheets painted with Qt for paper and PDF."""
