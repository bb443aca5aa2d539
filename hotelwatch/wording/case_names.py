"""The short names of the codes of cases: signs, outcomes, what happens to things."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

SIGN = {
    "live_insect": m("Live insect"),
    "eggs": m("Eggs or egg shells"),
    "cast_skin": m("Cast skins"),
    "dark_spots": m("Dark spots"),
    "blood_spot": m("Blood spot on linen"),
    "dead_insect": m("Dead insect"),
    "dog_alert": m("A dog alerted"),
    "bites_reported": m("Bites reported"),
    "guest_word": m("Guest's word"),
}

LIFE_STAGE = {
    "nymph": m("Young"),
    "adult": m("Grown"),
    "several": m("Young and grown"),
}

SPECIMEN_STEP = {
    "kept": m("Kept here"),
    "sent": m("Sent to be looked at"),
    "returned": m("Came back"),
    "discarded": m("Thrown away"),
}

CARE_STEP = {
    "luggage": m("Luggage"),
    "linen": m("Linen"),
    "cart": m("Cart"),
    "vacuum": m("Vacuum cleaner"),
    "staff_clothes": m("Clothes of those who went in"),
}

OUTCOME = {
    "confirmed": m("Bed bug confirmed"),
    "not_bed_bug": m("Not a bed bug"),
    "undetermined": m("Could not be determined"),
}

EVIDENCE = {
    "strong": m("Strong"),
    "moderate": m("Moderate"),
    "weak": m("Weak"),
}
