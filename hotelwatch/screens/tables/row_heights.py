"""How high the rows of a table are in which long texts wrap."""

from __future__ import annotations

from PySide6.QtWidgets import QTableView

MOST_ROWS = 200
"""So many rows are measured each; of more the first ones, and all get the highest's height."""
ROWS_MEASURED = 60
BROKEN_AIR_PX = 8
"""Above and below the text of a row whose lines are broken, together."""


def fit_rows(view: QTableView) -> None:
    """Give rows the height that their texts need at the widths of now.

    Measuring thousands of rows would keep a person waiting for a second and more.
    """
    rows = view.model().rowCount()
    header = view.verticalHeader()
    if rows <= MOST_ROWS:
        usual = header.defaultSectionSize()  # a row of one line has its air already
        for row in range(rows):
            header.resizeSection(row, max(usual, view.sizeHintForRow(row) + BROKEN_AIR_PX))
        return
    highest = max(view.sizeHintForRow(row) for row in range(ROWS_MEASURED))
    header.setDefaultSectionSize(max(highest, header.minimumSectionSize()))
