"""The same jobs as commands: they prove that the core needs no window."""
