"""Words: every code that the core says becomes a sentence here, through gettext."""
