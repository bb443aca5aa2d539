"""Tables from files, from the clipboard, and dropped onto the window."""
