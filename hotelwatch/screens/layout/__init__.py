"""How widgets share the room there is: in rows that go on, in pages and boxes that scroll."""
