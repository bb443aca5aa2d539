"""Where resources, the demo hotel and the user's own folders are."""

from __future__ import annotations

from pathlib import Path

import platformdirs

PACKAGE = Path(__file__).resolve().parent


def _shipped(name: str) -> Path:
    # An editable install leaves a stale copy inside the package: the clone's own
    # folder counts where the package stands beside its pyproject.toml.
    clone = PACKAGE.parent
    if (clone / "pyproject.toml").is_file() and (clone / name).is_dir():
        return clone / name
    return PACKAGE / name


def resources() -> Path:
    """The folder of figures, kinds of bed, translations and icons."""
    return _shipped("resources")


def demo_hotel() -> Path:
    """The folder of the invented hotel."""
    return _shipped("demo_hotel")


def config_folder() -> Path:
    """The user's folder for choices of the window, made if missing."""
    return Path(platformdirs.user_config_dir("hotelwatch", ensure_exists=True))


def data_folder() -> Path:
    """The user's folder for logs and the demo hotel's file, made if missing."""
    return Path(platformdirs.user_data_dir("hotelwatch", ensure_exists=True))
