"""Where one looks from: which point lies in the middle, and how large a metre shows."""

from __future__ import annotations

from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF, QRectF, QSizeF

ZOOM_STEP = 1.25
LEAST_PX_PER_M = 0.05
MOST_PX_PER_M = 160.0
MARGIN_PX = 26.0


@dataclass(frozen=True, slots=True)
class Camera:
    """A point of the scene in the middle of the view, and pixels for each metre.

    The scene counts metres to the right and down, as a screen does.
    """

    x: float = 0.0
    y: float = 0.0
    scale: float = 10.0

    def at(self, size: QSizeF, x: float, y: float) -> QPointF:
        """Where a point of the scene shows in a view of that size."""
        return QPointF(
            size.width() / 2 + (x - self.x) * self.scale,
            size.height() / 2 + (y - self.y) * self.scale,
        )

    def under(self, size: QSizeF, point: QPointF) -> QPointF:
        """The point of the scene under a point of the view."""
        return QPointF(
            self.x + (point.x() - size.width() / 2) / self.scale,
            self.y + (point.y() - size.height() / 2) / self.scale,
        )

    def seen(self, size: QSizeF) -> QRectF:
        """What of the scene is in view."""
        wide, tall = size.width() / self.scale, size.height() / self.scale
        return QRectF(self.x - wide / 2, self.y - tall / 2, wide, tall)

    def panned(self, by_px: QPointF) -> Camera:
        """So many pixels further: what was to the right comes in with a positive x."""
        return replace(self, x=self.x + by_px.x() / self.scale, y=self.y + by_px.y() / self.scale)

    def zoomed(self, times: float, size: QSizeF, about: QPointF) -> Camera:
        """So much larger, with the point under the pointer where it was."""
        scale = min(MOST_PX_PER_M, max(LEAST_PX_PER_M, self.scale * times))
        held = self.under(size, about)
        return Camera(
            x=held.x() - (about.x() - size.width() / 2) / scale,
            y=held.y() - (about.y() - size.height() / 2) / scale,
            scale=scale,
        )

    def held_to(self, bounds: QRectF) -> Camera:
        """With the middle of the view over the scene, so that one is never lost."""
        if bounds.isEmpty():
            return self
        return replace(
            self,
            x=min(bounds.right(), max(bounds.left(), self.x)),
            y=min(bounds.bottom(), max(bounds.top(), self.y)),
        )

    def between(self, other: Camera, share: float) -> Camera:
        """On the way to another place; size changes by equal ratios, as the eye expects."""
        scale = self.scale * (other.scale / self.scale) ** share
        # The way is gone in step with the size, so that the goal does not swing out of view.
        if other.scale == self.scale:
            gone = share
        else:
            gone = (1 / self.scale - 1 / scale) / (1 / self.scale - 1 / other.scale)
        return Camera(
            x=self.x + (other.x - self.x) * gone, y=self.y + (other.y - self.y) * gone, scale=scale
        )


def fitted(bounds: QRectF, size: QSizeF, most_px_per_m: float = MOST_PX_PER_M) -> Camera:
    """The place from which everything shows."""
    middle = bounds.center()
    if bounds.isEmpty() or size.isEmpty():
        return Camera(middle.x(), middle.y())
    wide = max(1.0, size.width() - 2 * MARGIN_PX) / bounds.width()
    tall = max(1.0, size.height() - 2 * MARGIN_PX) / bounds.height()
    scale = max(LEAST_PX_PER_M, min(most_px_per_m, wide, tall))
    return Camera(middle.x(), middle.y(), scale)
