"""A bed drawn by our own lines, opened from what is seen to what is hidden; its places numbered."""
