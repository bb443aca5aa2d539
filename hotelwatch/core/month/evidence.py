"""What was kept of a month's cases and who was told: photos, specimens, papers, logs, words."""

from __future__ import annotations

from collections.abc import Iterator

from hotelwatch.core.case_facts import NoticeGiven, PhotoKept, SpecimenNoted
from hotelwatch.core.days import local_day
from hotelwatch.core.house import House
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.page_rows import KeptRow, NoticeRow
from hotelwatch.core.month.rows import TreatmentRow
from hotelwatch.core.records import Kept
from hotelwatch.core.treatment_facts import (
    PaperKept,
    PaperKind,
    ProbeLogKept,
    TreatmentRecorded,
)

PHOTO, SPECIMEN, LOG = "photo", "specimen", "log"


def kept_rows(house: House, span: Span) -> tuple[KeptRow, ...]:
    """Photos, specimens' steps, papers and logs of the month, in the order written down."""
    found = [*_photos(house), *_specimens(house), *_papers(house), *_logs(house)]
    told = [row for row in found if span.holds(local_day(row.at, house.zone))]
    return tuple(sorted(told, key=lambda row: (row.entry, row.what, row.named, row.sha256)))


def notice_rows(house: House, span: Span) -> tuple[NoticeRow, ...]:
    """Who was told in the month, by when."""
    rows = [
        NoticeRow(
            case=row.fact.case,
            room=row.fact.room,
            notice=row.fact.notice,
            to=row.fact.to,
            given_at=row.fact.given_at,
            by=row.fact.by,
            receipt=row.fact.receipt,
            noted=row.fact.noted,
            entry=row.entry,
        )
        for row in house.kept_of(NoticeGiven)
        if span.holds(local_day(row.fact.given_at, house.zone))
    ]
    return tuple(sorted(rows, key=lambda row: (row.given_at, row.entry)))


def treatment_rows(house: House, span: Span) -> tuple[TreatmentRow, ...]:
    """Licensed work of the month, by day, with the logs and reports kept with its case."""
    done = [row for row in house.kept_of(TreatmentRecorded) if span.holds(row.fact.treated_on)]
    done.sort(key=lambda row: (row.fact.treated_on, row.fact.room))
    return tuple(_treatment(house, row) for row in done)


def _treatment(house: House, row: Kept[TreatmentRecorded]) -> TreatmentRow:
    told = row.fact
    logs = (one.fact for one in house.kept_of_case(ProbeLogKept, told.case))
    reports = (
        one.fact.sha256
        for one in house.kept_of_case(PaperKept, told.case)
        if one.fact.what is PaperKind.REPORT
        and local_day(house.entry_of(one).recorded_at, house.zone) >= told.treated_on
    )
    return TreatmentRow(
        told=told,
        logs=tuple(
            (log.log, log.sha256)
            for log in logs
            if (log.room, log.treated_on) == (told.room, told.treated_on)
        ),
        reports=tuple(dict.fromkeys(reports)),
    )


def _photos(house: House) -> Iterator[KeptRow]:
    for row in house.kept_of(PhotoKept):
        fact = row.fact
        at = house.entry_of(row).recorded_at
        yield KeptRow(fact.case, PHOTO, fact.caption, at, row.entry, sha256=fact.sha256)


def _specimens(house: House) -> Iterator[KeptRow]:
    for row in house.kept_of(SpecimenNoted):
        fact = row.fact
        yield KeptRow(
            fact.case,
            SPECIMEN,
            fact.label,
            fact.at,
            row.entry,
            room=fact.room,
            step=fact.step,
            where=fact.where,
            by=fact.by,
        )


def _papers(house: House) -> Iterator[KeptRow]:
    for row in house.kept_of(PaperKept):
        fact = row.fact
        at, what = house.entry_of(row).recorded_at, fact.what.value
        yield KeptRow(
            fact.case, what, fact.file_name, at, row.entry, by=fact.by, sha256=fact.sha256
        )


def _logs(house: House) -> Iterator[KeptRow]:
    for row in house.kept_of(ProbeLogKept):
        fact = row.fact
        at = house.entry_of(row).recorded_at
        yield KeptRow(
            *(fact.case, LOG, fact.log, at, row.entry),
            room=fact.room,
            by=fact.by,
            sha256=fact.sha256,
        )
