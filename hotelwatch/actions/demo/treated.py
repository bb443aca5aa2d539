"""What goes with the demo hotel's treatment: specimen, care, firm, order, log of heat, a trap."""

from __future__ import annotations

import math
import tempfile
from datetime import date, datetime, timedelta
from pathlib import Path

from hotelwatch.actions.dogs import record_dog_visit
from hotelwatch.actions.joining import note_specimen
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.release import place_monitor
from hotelwatch.actions.treatment import (
    LogOfRoom,
    describe_firm,
    keep_probe_log,
    note_care,
    order_treatment,
)
from hotelwatch.core.case_facts import SpecimenNoted, SpecimenStep
from hotelwatch.core.days import moment_of
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.lethal.dose import Method
from hotelwatch.core.treatment_facts import (
    CareDone,
    CareStep,
    DogVisit,
    FirmDescribed,
    MonitorPlaced,
    TreatmentOrdered,
    TreatmentRecorded,
)
from hotelwatch.intake.probe_file import read_probe_log

FIRM, LICENCE = "Contracted firm (invented)", "W-0417"
PREPARATION = "Open drawers and wardrobes, leave bedding in place, nothing sealed in plastic."
EVERY_MINUTES = 5
HOURS = 7
START_CELSIUS = 21.0
PROBES = (
    ("Air °C", 60.0, 70.0),
    ("Headboard °C", 56.5, 110.0),
    ("Inside box spring °C", 54.0, 150.0),
    ("Mattress core °C", 53.0, 160.0),
)
"""Heading, the temperature it nears, and in how many minutes it comes two thirds of the way."""


def take_care(hotel: OpenHotel, case: CaseNo, room: RoomNo, at: datetime) -> None:
    """The specimen is kept; luggage, linen and cart of the room are seen to."""
    where = "Executive housekeeper's cabinet"
    note_specimen(hotel, SpecimenNoted(case, "T-1", room, SpecimenStep.KEPT, where, "Ana", at))
    note_care(
        hotel,
        [
            CareDone(case, room, CareStep.LUGGAGE, at, "Bogdan", noted="Bagged in the room."),
            CareDone(case, room, CareStep.LINEN, at, "Ana", 60.0, 45),
            CareDone(case, room, CareStep.CART, at, "Bogdan", noted="Held and looked at."),
        ],
    )


def order(hotel: OpenHotel, case: CaseNo, room: RoomNo, on: date) -> None:
    """The firm is written down and comes to treat."""
    describe_firm(hotel, FirmDescribed(FIRM, LICENCE, date(on.year + 1, 12, 31), "Heat treatment"))
    for_at = moment_of(on, "09:00", hotel.zone)
    ordered = TreatmentOrdered(case, (room,), FIRM, for_at, PREPARATION, "Executive housekeeper")
    order_treatment(hotel, ordered)


def treated(case: CaseNo, room: RoomNo, on: date, reenter_at: datetime) -> TreatmentRecorded:
    """The visit as the firm reported it."""
    return TreatmentRecorded(
        case=case,
        room=room,
        treated_on=on,
        method="Whole-room heat",
        firm=FIRM,
        licence=LICENCE,
        reenter_at=reenter_at,
        technician="Technician 12",
        areas=("whole room", "bathroom"),
        preparation="done",
        bedding="left",
        receipt_no=f"R-{on:%y%m}-{room}",
    )


def keep_log(hotel: OpenHotel, case: CaseNo, room: RoomNo, on: date) -> None:
    """The firm's log of probes is read and kept."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"heat-{room}-{on.isoformat()}.csv"
        path.write_text(log_text(on), "utf-8")
        log = read_probe_log(path, hotel.zone)
        keep_probe_log(hotel, path, log, LogOfRoom(case, room, on, Method.HEAT))


def log_text(on: date) -> str:
    """An invented log: four probes that near their temperatures from nine o'clock on."""
    lines = ["Time," + ",".join(heading for heading, _top, _pace in PROBES)]
    begins = datetime.combine(on, datetime.min.time()) + timedelta(hours=9)
    for minute in range(0, HOURS * 60 + 1, EVERY_MINUTES):
        readings = (
            top - (top - START_CELSIUS) * math.exp(-minute / pace) for _heading, top, pace in PROBES
        )
        told = ",".join(f"{reading:.1f}" for reading in readings)
        lines.append(f"{begins + timedelta(minutes=minute):%Y-%m-%d %H:%M},{told}")
    return "\n".join(lines) + "\n"


def place_trap(hotel: OpenHotel, room: RoomNo, on: date) -> None:
    """A trap is put under a leg of the bed when the room is let again."""
    place_monitor(hotel, MonitorPlaced("P-1", room, "under the bed's leg", on, "Dora"))


def lead_dog(hotel: OpenHotel, floor: str, at: datetime) -> None:
    """A firm's dog is led through a floor and alerts nowhere, which is no look."""
    visit = DogVisit(
        visited_at=at,
        firm="Keen Nose (invented)",
        handler="H. Ober",
        certified="A club's certificate until next spring, as told",
        rooms=hotel.house.rooms_by_floor[floor],
        alerts=(),
        by="Executive housekeeper",
    )
    record_dog_visit(hotel, visit)
