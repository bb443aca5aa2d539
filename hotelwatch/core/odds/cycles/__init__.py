"""What a cycle buys: days to detection, who finds it, what it costs, the next hour of work."""
