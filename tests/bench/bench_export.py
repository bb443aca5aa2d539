"""Export and taking in of ten years against a bare SELECT of the same rows, processor time.

``python -m tests.bench.bench_export``
"""

from __future__ import annotations

import filecmp
import resource
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from time import process_time

from hotelwatch.actions.exporting import export_everything, take_in
from hotelwatch.store.schema import chain_tables
from tests.bench.bench_store import build_ten_years


def taken(run: Callable[[], object]) -> float:
    """Seconds of the processor."""
    start = process_time()
    run()
    return process_time() - start


def select_all(path: Path) -> None:
    """Every row of every table of the record, and nothing else."""
    with closing(sqlite3.connect(path)) as plain:
        for name in ("entry", "stay", "word_kept", *(table.name for table in chain_tables())):
            plain.execute(f"SELECT * FROM {name}").fetchall()


def main() -> None:
    """Print times and ratios."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path, other, out, again = (folder / n for n in ("a.hotel", "b.hotel", "out", "again"))
        build_ten_years(path)
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        bare = taken(lambda: select_all(path))
        export = taken(lambda: export_everything(path, out))
        grown = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
        coming = taken(lambda: take_in(out, other))
        export_everything(other, again)
        names = [file.relative_to(out) for file in out.rglob("*") if file.is_file()]
        same = all(filecmp.cmp(out / name, again / name, shallow=False) for name in names)
        size = sum((out / name).stat().st_size for name in names) / 1e6
    print(f"bare SELECT {bare:.2f} s; export {export:.2f} s, {export / bare:.1f} times;")
    print(
        f"take in {coming:.2f} s, {coming / bare:.1f} times; {size:.0f} MB, memory +{grown:.0f} MB"
    )
    print(f"its own export is the same, byte for byte: {same} ({len(names)} files)")


if __name__ == "__main__":
    main()
