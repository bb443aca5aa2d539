from __future__ import annotations

import errno
from hashlib import sha256

import pytest
from PIL import Image, ImageCms, PngImagePlugin

from hotelwatch.core.problems import Refusal
from hotelwatch.store import photos
from hotelwatch.store.kept_files import write_whole
from hotelwatch.store.photos import folder_of, keep_photo, photo_path

# Exif 2.3: 0x0112 is Orientation, 0x010F Make, 0x8825 the positions, 2 latitude.
ORIENTATION, MAKE, POSITIONS, LATITUDE = 0x0112, 0x010F, 0x8825, 2


@pytest.fixture
def hotel(tmp_path):
    return tmp_path / "house.hotel"


@pytest.fixture
def turned(tmp_path):
    """A photo, red on the left, that says it must be turned a quarter to the right."""
    photo = Image.new("RGB", (60, 20), "blue")
    photo.paste("red", (0, 0, 30, 20))
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif[MAKE] = "A maker of cameras"
    exif.get_ifd(POSITIONS)[LATITUDE] = (48.0, 12.0, 30.0)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    path = tmp_path / "turned.jpg"
    photo.save(path, exif=exif, icc_profile=profile, comment=b"room 0101", quality=95)
    assert b"A maker of cameras" in path.read_bytes()
    return path


def test_a_photo_is_kept_under_its_digest(hotel, turned):
    digest, size = keep_photo(hotel, turned)
    kept = photo_path(hotel, digest)
    assert kept == hotel.parent / "house.photos" / f"{digest}.jpg"
    assert sha256(kept.read_bytes()).hexdigest() == digest
    assert kept.stat().st_size == size
    assert [path.name for path in kept.parent.iterdir()] == [kept.name]


def test_a_kept_photo_stands_upright_and_says_nothing_else(hotel, turned):
    digest, _ = keep_photo(hotel, turned)
    content = photo_path(hotel, digest).read_bytes()
    for word in (b"A maker of cameras", b"room 0101", b"Exif", b"ICC_PROFILE"):
        assert word not in content
    with Image.open(photo_path(hotel, digest)) as kept:
        # Exif 2.3: orientation 6, the first row is the right-hand side.
        assert kept.size == (20, 60)
        assert not kept.getexif()
        assert set(kept.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        red, blue = kept.getpixel((10, 5)), kept.getpixel((10, 55))
    assert red[0] > 200 > 60 > red[2]
    assert blue[2] > 200 > 60 > blue[0]


def test_a_png_keeps_its_pixels_and_loses_its_words(hotel, tmp_path):
    words = PngImagePlugin.PngInfo()
    words.add_text("Comment", "taken in room 0101")
    photo = Image.linear_gradient("L").convert("RGBA")
    photo.putalpha(100)
    photo.save(tmp_path / "drawing.png", pnginfo=words)
    digest, _ = keep_photo(hotel, tmp_path / "drawing.png")
    kept = photo_path(hotel, digest)
    assert b"0101" not in kept.read_bytes()
    with Image.open(kept) as found:
        assert found.info == {}
        assert found.tobytes() == photo.tobytes()


@pytest.mark.parametrize("ending", ["webp", "tiff", "bmp", "gif"])
def test_other_kinds_become_png(hotel, tmp_path, ending):
    Image.new("RGB", (8, 8), "green").save(tmp_path / f"photo.{ending}")
    digest, _ = keep_photo(hotel, tmp_path / f"photo.{ending}")
    with Image.open(photo_path(hotel, digest)) as kept:
        assert (kept.format, kept.size) == ("PNG", (8, 8))


def test_the_same_photo_is_kept_once(hotel, turned):
    assert keep_photo(hotel, turned) == keep_photo(hotel, turned)
    assert len(list(folder_of(hotel).iterdir())) == 1


@pytest.mark.parametrize("content", [b"", b"Dear guest", b"\xff\xd8\xff\xe0 no more", b"%PDF-1.7"])
def test_what_is_no_photo_is_refused(hotel, tmp_path, content):
    (tmp_path / "letter.jpg").write_bytes(content)
    with pytest.raises(Refusal) as caught:
        keep_photo(hotel, tmp_path / "letter.jpg")
    assert caught.value.code == "not_a_photo"
    assert not folder_of(hotel).exists()


def test_a_photo_cut_short_is_refused(hotel, turned, tmp_path):
    content = turned.read_bytes()
    (tmp_path / "half.jpg").write_bytes(content[: len(content) - 150])
    with pytest.raises(Refusal) as caught:
        keep_photo(hotel, tmp_path / "half.jpg")
    assert caught.value.code == "not_a_photo"


def test_a_missing_photo_is_said_to_be_missing(hotel, tmp_path):
    with pytest.raises(Refusal) as caught:
        keep_photo(hotel, tmp_path / "none.jpg")
    assert caught.value.code == "no_such_file"
    assert photo_path(hotel, "0" * 64) is None


@pytest.mark.parametrize("side", [9_000, 13_500])
def test_a_photo_of_too_many_pixels_is_refused_before_it_fills_the_memory(hotel, tmp_path, side):
    Image.new("1", (side, side)).save(tmp_path / "vast.png")
    with pytest.raises(Refusal) as caught:
        keep_photo(hotel, tmp_path / "vast.png")
    assert caught.value.code == "photo_too_large"
    assert side * side > photos.MOST_PIXELS


@pytest.mark.parametrize(
    ("number", "code"),
    [(errno.ENOSPC, "disk_full"), (errno.EROFS, "read_only_file"), (errno.EIO, "disk_failed")],
)
def test_a_disk_that_takes_no_picture_says_why_and_keeps_no_part(
    tmp_path, monkeypatch, number, code
):
    def fail(_handle):
        raise OSError(number, "told by the system")

    monkeypatch.setattr("hotelwatch.store.kept_files.os.fsync", fail)
    with pytest.raises(Refusal) as caught:
        write_whole(tmp_path / "house.photos" / "abc.jpg", b"picture")
    assert caught.value.code == code
    assert list((tmp_path / "house.photos").iterdir()) == []
