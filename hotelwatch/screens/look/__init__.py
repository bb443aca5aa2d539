"""The window's own look: colours, icons, what drawings and their legends share."""
