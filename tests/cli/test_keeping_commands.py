from __future__ import annotations

from datetime import UTC, datetime

from PIL import Image

CASE = "2026-001"


def settled(hotel):
    """A sign with a photo, judged to be none by 10 March 2026."""
    photo = hotel.folder / "photo.png"
    Image.new("RGB", (8, 8), "red").save(photo)
    said = hotel(
        "sighting", hotel.file, "103", "dark_spots", "--seen-by", "Berta Quill", "--photo", photo,
        "--bed", "A", "--place", "base_underside", "--by", "maria",
    )  # fmt: skip
    assert CASE in said
    why = ("--lifted-by", "Eve Marsh", "--reason", "a stain", "--by", "maria")
    hotel("judge", hotel.file, CASE, "not_bed_bug", "--judged-by", "Eve Marsh",
          "--competence", "licence 9", "--was", "a stain", "--by", "maria")  # fmt: skip
    hotel("lift", hotel.file, CASE, "103", *why)


def photos(hotel):
    return list((hotel.folder / "inn.photos").iterdir())


def test_what_is_due_is_told_then_goes_and_the_record_says_so(hotel):
    settled(hotel)
    said = hotel("expire", hotel.file, "--look")
    assert "3 years (local rules)" in said
    assert "not yet: the earliest on" in said
    hotel.now = datetime(2035, 1, 1, tzinfo=UTC)
    assert len(photos(hotel)) == 1
    assert "Delete 10 for good?" in hotel("expire", hotel.file, exit_code=1)
    assert len(photos(hotel)) == 1
    said = hotel("expire", hotel.file, "--yes", "--by", "maria")
    assert "Photos: 1 went; the record says so." in said
    assert photos(hotel) == []
    assert b"Berta Quill" not in hotel.file.read_bytes()
    told = hotel("check-file", hotel.file)
    assert "says that photos expired: 1." in told
    assert "unbroken" in told
    assert "Nothing is due to be deleted." in hotel("expire", hotel.file, "--yes")
    assert "‹expired 2035-01" in hotel("list", "entries", hotel.file)
    said = hotel("take-back", hotel.file, "6", "--reason", "no", exit_code=1)
    assert "‹expired" in hotel("list", "entries", hotel.file)


def test_a_photo_that_a_power_cut_left_goes_the_next_time(hotel):
    settled(hotel)
    hotel.now = datetime(2035, 1, 1, tzinfo=UTC)
    (photo,) = photos(hotel)
    content = photo.read_bytes()
    hotel("expire", hotel.file, "--yes")
    photo.write_bytes(content)
    assert "its file is still there" in hotel("check-file", hotel.file)
    assert "Nothing is due to be deleted." in hotel("expire", hotel.file)
    assert photos(hotel) == []


def test_a_dispute_keeps_everything_and_needs_a_reason(hotel):
    settled(hotel)
    hotel.now = datetime(2035, 1, 1, tzinfo=UTC)
    hotel("stop-expiry", hotel.file, "--case", "2031-009", "--reason", "x", exit_code=1)
    hotel("stop-expiry", hotel.file, "--reason", " ", exit_code=1)
    hotel("stop-expiry", hotel.file, "--reason", "a guest's claim", "--said-by", "Eve Marsh")
    said = hotel("expire", hotel.file, "--yes")
    assert "Nothing may expire: Eve Marsh, a guest's claim" in said
    assert "Nothing is due to be deleted." in said
    hotel("stop-expiry", hotel.file, "--reason", "settled", "--end")
    hotel("stop-expiry", hotel.file, "--reason", "settled", "--end", exit_code=1)
    assert "went; the record says so." in hotel("expire", hotel.file, "--yes")


def test_the_hotel_may_keep_photos_for_ever(hotel):
    settled(hotel)
    hotel("choose", hotel.file, "keeps_photos", "always")
    hotel.now = datetime(2035, 1, 1, tzinfo=UTC)
    hotel("expire", hotel.file, "--yes")
    assert len(photos(hotel)) == 1
    said = hotel("rules", hotel.file)
    assert "How long photos are kept: Always" in said


def test_everything_goes_out_and_in_again(hotel):
    settled(hotel)
    out = hotel.folder / "out.zip"
    said = hotel("export", hotel.file, out)
    digest = said.split()[-1]
    assert digest in hotel("check-file", hotel.file)
    other = hotel.folder / "other.hotelwatch"
    assert digest in hotel("take-in", out, other)
    assert digest in hotel("check-file", other)
    said = hotel("take-in", out, other, exit_code=1)
    assert "There is already a file" in said
    words = hotel.folder / "no.zip"
    words.write_text("no zip")
    assert "no export" in hotel("take-in", words, hotel.folder / "x.hotelwatch", exit_code=1)


def test_check_file_prints_how_a_stranger_does_it(hotel):
    said = hotel("check-file", hotel.file, "--how")
    assert "sha256sum" in said
    assert "verify_chain.py" in said
