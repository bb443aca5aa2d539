"""A file of an earlier format gets the tables of today's; what was written down stays the same."""

from __future__ import annotations

from sqlite_utils import Database

from hotelwatch.store.schema import FORMAT, LATER_FIELDS, FactTable, fact_tables, objects


def format_of(db: Database) -> int:
    """The number of the file's shape."""
    return int(db.execute("PRAGMA user_version").fetchone()[0])


def upgrade(db: Database) -> None:
    """Bring an older file to today's format, all or nothing.

    Tables that got columns are made anew with their rows, the new columns saying
    "not said"; then whatever is missing is made. The digests of all entries stay.
    """
    db.conn.execute("BEGIN IMMEDIATE")
    try:
        if format_of(db) < FORMAT:
            for kind in LATER_FIELDS:
                _widen(db, fact_tables()[kind])
            _widen_stays(db)
            _make_missing(db)
            db.conn.execute(f"PRAGMA user_version = {FORMAT}")
        db.conn.execute("COMMIT")
    except BaseException:
        db.rollback()
        raise


def _widen(db: Database, table: FactTable) -> None:
    """Make a table anew with its later columns; its view and its guards follow with the rest."""
    found = {row[1] for row in db.execute(f"PRAGMA table_info({table.name})")}
    if found.issuperset(table.later):
        return
    known = [column.name for column in table.columns if column.name in found]
    listed = ", ".join(f'"{name}"' for name in ("entry", "line", *known))
    rows = db.execute(f"SELECT {listed} FROM {table.name} ORDER BY entry, line").fetchall()
    db.conn.execute(f"DROP VIEW IF EXISTS {table.name}_now")
    db.conn.execute(f"DROP TABLE {table.name}")
    db.conn.execute(objects()[table.name])
    cells = (
        (
            *row[:2],
            *(
                {**table.later, **dict(zip(known, row[2:], strict=True))}[c.name]
                for c in table.columns
            ),
        )
        for row in rows
    )
    db.conn.executemany(table.insert_sql, cells)


def _widen_stays(db: Database) -> None:
    """Make the table of bookings anew with the day of booking, which is not said."""
    known = [row[1] for row in db.execute("PRAGMA table_info(stay)")]
    if "booked_on" in known:
        return
    listed = ", ".join(f'"{name}"' for name in known)
    rows = db.execute(f"SELECT {listed} FROM stay ORDER BY line").fetchall()
    db.conn.execute("DROP TABLE stay")
    db.conn.execute(objects()["stay"])
    places = ", ".join("?" * len(known))
    db.conn.executemany(f"INSERT INTO stay ({listed}) VALUES ({places})", rows)


def _make_missing(db: Database) -> None:
    found = {row[0] for row in db.execute("SELECT name FROM sqlite_schema")}
    for name, sql in objects().items():
        if name not in found:
            db.conn.execute(sql)
