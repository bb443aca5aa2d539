"""The journal of facts: one SQLite file is one hotel. SQL stays in this folder."""
