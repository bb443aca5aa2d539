"""The hotel's own description by command."""

from __future__ import annotations


def test_the_hotels_hours_and_name_are_changed_and_told(hotel):
    assert "Guests leave by 11:00 and arrive from 15:00" in hotel("hotel", hotel.file)
    said = hotel("hotel", hotel.file, "--leave-by", "10:00", "--name", "Inn by the Pond")
    assert said.startswith("Inn by the Pond, time zone Europe/Vienna. Guests leave by 10:00")
    assert "Let departures end" in hotel("hotel", hotel.file, "--leave-by", "16:00", exit_code=1)
    assert "10:00" in hotel("hotel", hotel.file)
