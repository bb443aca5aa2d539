"""Photos of a case, kept beside the hotel's file without anything but the picture."""

from __future__ import annotations

import io
import warnings
from hashlib import sha256
from pathlib import Path

from PIL import Image, ImageOps, UnidentifiedImageError

from hotelwatch.core.problems import Refusal
from hotelwatch.store.kept_files import write_whole

FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF")
MOST_PIXELS = 80_000_000
"""More than a telephone's camera makes; more would fill the memory."""
JPEG_QUALITY = 90


def folder_of(hotel_file: Path) -> Path:
    """The folder of a hotel's photos: beside its file, named after it."""
    return hotel_file.with_name(f"{hotel_file.stem}.photos")


def photo_path(hotel_file: Path, digest: str) -> Path | None:
    """Where the photo of that digest lies; None if it is not there."""
    for ending in (".jpg", ".png"):
        path = folder_of(hotel_file) / f"{digest}{ending}"
        if path.is_file():
            return path
    return None


def keep_photo(hotel_file: Path, source: Path) -> tuple[str, int]:
    """Keep a copy of a photo: its SHA-256 and its size in bytes, as kept.

    The copy holds the picture alone, upright: where and when and with what it was
    taken is left behind. A JPEG stays one; every other kind becomes a PNG.

    Raises Refusal: "no_such_file", "not_a_photo", "photo_too_large".
    """
    content, ending = _picture_alone(source)
    digest = sha256(content).hexdigest()
    write_whole(folder_of(hotel_file) / f"{digest}{ending}", content)
    return digest, len(content)


def _picture_alone(source: Path) -> tuple[bytes, str]:
    if not source.is_file():
        raise Refusal("no_such_file", file=str(source))
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(source, formats=FORMATS) as photo:
                return _encoded(photo, source)
    except Image.DecompressionBombError as error:
        raise Refusal("photo_too_large", file=str(source), most=str(MOST_PIXELS)) from error
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError) as error:
        raise Refusal("not_a_photo", file=str(source), reason=str(error)) from error


def _encoded(photo: Image.Image, source: Path) -> tuple[bytes, str]:
    if photo.width * photo.height > MOST_PIXELS:
        raise Refusal("photo_too_large", file=str(source), most=str(MOST_PIXELS))
    is_jpeg = photo.format in ("JPEG", "MPO")
    upright = ImageOps.exif_transpose(photo)
    mode = "RGB" if is_jpeg or not upright.has_transparency_data else "RGBA"
    drawn = upright.convert(mode)
    # A new picture of the same pixels: what else came with the old one stays behind.
    bare = Image.frombytes(mode, drawn.size, drawn.tobytes())
    out = io.BytesIO()
    if is_jpeg:
        bare.save(out, "JPEG", quality=JPEG_QUALITY, optimize=True)
        return out.getvalue(), ".jpg"
    bare.save(out, "PNG", optimize=True)
    return out.getvalue(), ".png"
