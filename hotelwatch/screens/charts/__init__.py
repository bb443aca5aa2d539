"""Our own charts: bars, ranges and curves, read by keys, by the pointer, aloud and on paper."""
