"""Looking back: how finds were noticed, where they recur, how long they were there."""
