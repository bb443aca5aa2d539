"""Linear programmes as arrays, solved by HiGHS: the same input gives the same answer."""

from __future__ import annotations

from dataclasses import dataclass, field

import highspy
import numpy as np

from hotelwatch.core.planning.problem import Claims, Floats, Ints

EVER = float("inf")


@dataclass(slots=True)
class Programme:
    """Minimise costs over columns within rows; entries come in blocks."""

    costs: Floats
    upper: Floats
    rows: int = 0
    limits: list[tuple[Floats, Floats]] = field(default_factory=list)
    entries: list[tuple[Ints, Ints, Floats]] = field(default_factory=list)

    def demand(self, low: Floats, high: Floats) -> int:
        """Adds rows between ``low`` and ``high``; the number of the first."""
        first = self.rows
        self.limits.append((low, high))
        self.rows += len(low)
        return first

    def enter(self, row: Ints, column: Ints, value: Floats) -> None:
        """Adds entries, one an element."""
        self.entries.append((row, column, value))

    def matrix(self) -> tuple[Ints, Ints, Floats]:
        """Starts, rows and values, column by column."""
        row = np.concatenate([r for r, _, _ in self.entries])
        column = np.concatenate([c for _, c, _ in self.entries])
        value = np.concatenate([v for _, _, v in self.entries])
        order = np.lexsort((row, column))
        starts = np.zeros(len(self.costs) + 1, np.int64)
        np.cumsum(np.bincount(column, minlength=len(self.costs)), out=starts[1:])
        return starts, row[order], value[order]


class _Silent(highspy.Highs):
    """HiGHS that says nothing; as shipped it introduces itself while it is being made."""

    def enableCallbacks(self) -> None:
        """Called by the library as it begins: the first place to ask for silence."""
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def quiet() -> highspy.Highs:
    """HiGHS without a word, on one thread."""
    highs = _Silent()  # type: ignore[no-untyped-call]
    highs.setOptionValue("threads", 1)
    highs.setOptionValue("random_seed", 0)
    return highs


def hand_over(programme: Programme, highs: highspy.Highs, whole: Claims | None = None) -> None:
    """Gives HiGHS a programme; ``whole`` marks columns that must be whole numbers."""
    starts, rows, values = programme.matrix()
    columns = len(programme.costs)
    low = np.concatenate([low for low, _ in programme.limits])
    high = np.concatenate([high for _, high in programme.limits])
    whole = np.zeros(columns, bool) if whole is None else whole
    highs.passModel(
        columns,
        programme.rows,
        len(values),
        int(highspy.MatrixFormat.kColwise),
        int(highspy.ObjSense.kMinimize),
        0.0,
        programme.costs,
        np.zeros(columns),
        programme.upper,
        low,
        high,
        starts.astype(np.int32),
        rows.astype(np.int32),
        values,
        whole.astype(np.int32),
    )


def least(programme: Programme, *, presolve: bool = False) -> float:
    """The optimum. Raises ArithmeticError if HiGHS did not reach it."""
    highs = quiet()
    highs.setOptionValue("presolve", "on" if presolve else "off")
    hand_over(programme, highs)
    highs.run()
    if highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise ArithmeticError(highs.modelStatusToString(highs.getModelStatus()))
    return float(highs.getObjectiveValue())
