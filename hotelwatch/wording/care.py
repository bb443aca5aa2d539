"""What is done with luggage, linen, cart, vacuum cleaner and clothes of a room with a sign.

Source: washing at 60 C kills all stages, a hot dryer above 40 C for 30 minutes as well:
Naylor and Boase 2010, J Econ Entomol 103:136-139. Bags and closed moves: University of
Minnesota, response list for hotels; Minnesota Department of Health. Carts and vacuum
cleaners held and looked at: national pest management association, best management
practices (2011), 11.3.1.4.
"""

from __future__ import annotations

from hotelwatch.core.treatment_facts import CareStep
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m

INSTRUCTIONS = {
    CareStep.LUGGAGE: m(
        "Bag it in the room and close the bag before it leaves; don't carry it through the house"
        " open, don't set it on beds or seats. Offer the guest hot drying or another treatment"
        " for it; the guest decides."
    ),
    CareStep.LINEN: m(
        "Bag and close it in the room, mark the bag, move it closed, wash it apart: 60 °C, or a"
        " hot dryer (above 40 °C) for at least 30 minutes. Don't shake it."
    ),
    CareStep.CART: m(
        "Leave it in the corridor. The cart that served the room is held and looked at before it"
        " goes to another room: bags, mop heads, linen shelves."
    ),
    CareStep.VACUUM: m(
        "Hold the vacuum cleaner used in the room; close its bag in another bag and throw it"
        " away outside, look at hose and brush."
    ),
    CareStep.STAFF_CLOTHES: m(
        "Look at cuffs, shoes and gloves on leaving; clothes that touched bed or floor go into a"
        " closed bag and a hot dryer."
    ),
}
LEAVE_SCENE = m(
    "Leave linen, bed and furniture in place until they have been looked at. Nothing leaves the"
    " room unbagged. Nobody sprays, dusts or heats anything: treatment is licensed work."
)
GUEST = m(
    "Be quick and courteous. Offer a room from front desk's list of moves, none beside, above or"
    " below; say what you know and promise nothing. Bites and illness are for a doctor to judge."
)
SPECIMEN = m(
    "Press clear tape on what you found, or put it into a closed tube; write room, place, day and"
    " your name on it, and hand it in. A competent person says what it is."
)


def instructions() -> tuple[tuple[str, str], ...]:
    """What a sheet says of rooms in quarantine beside the places, each with its heading."""
    return (
        (_("First of all"), _(LEAVE_SCENE)),
        (_("What was found"), _(SPECIMEN)),
        (_("The guest"), _(GUEST)),
        (_("Luggage"), _(INSTRUCTIONS[CareStep.LUGGAGE])),
        (_("Linen"), _(INSTRUCTIONS[CareStep.LINEN])),
        (_("Cart"), _(INSTRUCTIONS[CareStep.CART])),
        (_("Vacuum cleaner"), _(INSTRUCTIONS[CareStep.VACUUM])),
        (_("Your clothes"), _(INSTRUCTIONS[CareStep.STAFF_CLOTHES])),
    )
