"""Commands on a small hotel's file, by a clock that the test sets."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner

from hotelwatch.cli.common import Desk
from hotelwatch.cli.main import commands
from hotelwatch.core.parameters import Rules
from tests.build import rules

ROSTER = (
    "Room,Floor,Side,Order,Type,Beds,Encased\n"
    "101,1,left,1,Double,1 box spring,no\n"
    "102,1,left,2,Double,2 box spring,no\n"
    "103,1,left,3,Double,1 box spring,no\n"
    "104,1,left,4,Double,1 box spring,yes\n"
)


class KnowsRules(Desk):
    """A desk that need not read the shipped rules anew for each command, as a new process must."""

    def rules(self) -> Rules:
        return rules()


@dataclass
class Command:
    """Runs a command on the hotel's file and hands back what it says."""

    folder: Path
    now: datetime = datetime(2026, 3, 9, 7, 30, tzinfo=UTC)

    @property
    def file(self) -> Path:
        return self.folder / "inn.hotelwatch"

    def __call__(self, *words: object, exit_code: int = 0) -> str:
        desk = KnowsRules(clock=lambda: self.now)
        result = CliRunner().invoke(commands, [str(word) for word in words], obj=desk)
        if result.exception and not isinstance(result.exception, SystemExit):
            raise result.exception
        assert result.exit_code == exit_code, result.output
        return result.output

    def table(self, name: str, text: str) -> Path:
        path = self.folder / name
        path.write_text(text, "utf-8")
        return path


@pytest.fixture
def command(tmp_path):
    return Command(tmp_path)


@pytest.fixture
def hotel(command):
    command("new", command.file, "--name", "Inn", "--zone", "Europe/Vienna", "--by", "maria")
    command("load", "roster", command.file, command.table("roster.csv", ROSTER))
    return command
