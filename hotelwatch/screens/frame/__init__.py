"""What surrounds the pages: the stack of them, ways to go, menus, help, undo."""
