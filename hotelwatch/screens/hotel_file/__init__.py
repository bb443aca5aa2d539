"""The hotel's file: coming by it, its backups, care for the record."""
