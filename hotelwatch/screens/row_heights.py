"""How high the rows of a table are in which long texts wrap."""

from __future__ import annotations

from PySide6.QtWidgets import QTableView

MOST_ROWS = 200
"""So many rows are measured each; of more the first ones, and all get the highest's height."""
ROWS_MEASURED = 60


def fit_rows(view: QTableView) -> None:
    """Give rows the height that their texts need at the widths of now.

    Measuring thousands of rows would keep a person waiting for a second and more.
    """
    rows = view.model().rowCount()
    if rows <= MOST_ROWS:
        view.resizeRowsToContents()
        return
    header = view.verticalHeader()
    highest = max(view.sizeHintForRow(row) for row in range(ROWS_MEASURED))
    header.setDefaultSectionSize(max(highest, header.minimumSectionSize()))
