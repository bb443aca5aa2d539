"""What can be wrong with input, and what is not allowed now."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Problem:
    """Something in the input that can't be taken: where, what, how to mend it.

    ``what`` and ``mend`` are codes with values; wording.problems makes the
    sentences. ``row`` and ``column`` are as a person counts them in the file.
    """

    where: str
    """File, sheet or field."""
    row: int
    """1-based row in the file; 0 where no single row is meant."""
    column: str
    """Heading as the file has it; empty where no column is meant."""
    code: str
    values: dict[str, str] = field(default_factory=dict)
    blocking: bool = True
    """False: the row is taken, but a person should know."""


class Refusal(Exception):
    """Not allowed now; says by code what is missing and what would allow it."""

    def __init__(self, code: str, **values: str) -> None:
        """Keep the code and the values its sentence names."""
        super().__init__(code, values)
        self.code = code
        self.values = values


class InputRefused(Exception):
    """Input with problems that was refused whole; nothing was written down."""

    def __init__(self, problems: list[Problem]) -> None:
        """Keep every problem, so that all are shown at once."""
        super().__init__(problems)
        self.problems = problems
