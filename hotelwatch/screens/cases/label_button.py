"""A button that prints the labels of a case's specimens."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QPushButton

from hotelwatch.core.case_facts import SpecimenNoted
from hotelwatch.core.facts import CaseNo
from hotelwatch.printing.specimen_label import LabelWish, print_labels
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import folder_to_print, open_to_print, tip_to_print
from hotelwatch.wording.language import _


class LabelButton(QPushButton):
    """Prints a label for each specimen of the case in view; hidden where it has none."""

    def __init__(self, context: Context) -> None:
        """No case in view."""
        super().__init__(_("Print the case's labels"))
        self.setAutoDefault(True)
        self._context = context
        self._case: CaseNo | None = None
        self.setToolTip(tip_to_print())
        self.clicked.connect(self._print_all)

    def show_case(self, case: CaseNo) -> None:
        """Print for this case from now on."""
        self._case = case
        self.setVisible(bool(self._context.hotel.house.kept_of_case(SpecimenNoted, case)))

    def _print_all(self) -> None:
        if self._case is not None:
            self.print(LabelWish(self._case))

    def print(self, wish: LabelWish) -> None:
        """Print these labels."""
        path = self._context.hotel.path
        target = folder_to_print(path) / f"{path.stem}-{wish.case}-labels.pdf"
        self._context.jobs.run(
            print_labels,
            self._context.hotel.house,
            wish,
            target,
            label=_("Printing labels of case {case}").format(case=wish.case),
            on_done=partial(self._tell, wish, target),
        )

    def _tell(self, wish: LabelWish, target: Path, _pages: int) -> None:
        told = _("The labels of case {case} are open as PDF, to be printed from there: {file}")
        said = told.format(case=wish.case, file=target)
        open_to_print(self._context, said, [target])
