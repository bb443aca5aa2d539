"""The page on which checks are recorded, place by place, and corrected afterwards."""
