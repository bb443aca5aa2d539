"""PINs: what may be one, its argon2id hash, and whether a PIN fits a hash.

The costs are argon2-cffi's own, those that RFC 9106 recommends where memory is short (its
second choice: three passes over 64 MiB in four lanes). The library is loaded when the first
PIN is looked at, not when the program starts.
"""

from __future__ import annotations

from itertools import pairwise

from hotelwatch.core.parameters import Figures
from hotelwatch.core.problems import Refusal

LONGEST_PIN = 32


def check_pin(pin: str, figures: Figures) -> None:
    """Raise Refusal: "pin_not_digits", "pin_too_short", "pin_too_long", "pin_too_plain"."""
    least = int(figures.pin_least_digits.value)
    if not (pin.isascii() and pin.isdigit()):
        raise Refusal("pin_not_digits", least=str(least))
    if len(pin) < least:
        raise Refusal("pin_too_short", least=str(least))
    if len(pin) > LONGEST_PIN:
        raise Refusal("pin_too_long", most=str(LONGEST_PIN))
    steps = {(int(later) - int(one)) % 10 for one, later in pairwise(pin)}
    if steps in ({0}, {1}, {9}):
        raise Refusal("pin_too_plain")


def hash_of(pin: str) -> str:
    """The PIN's hash with a salt of its own, in argon2's form."""
    from argon2 import PasswordHasher

    return PasswordHasher().hash(pin)


def fits(pin: str, pin_hash: str) -> bool:
    """Whether this is the PIN of that hash; a hash that is none fits nothing."""
    from argon2 import PasswordHasher
    from argon2.exceptions import Argon2Error, InvalidHash

    try:
        return PasswordHasher().verify(pin_hash, pin)
    except (Argon2Error, InvalidHash):
        return False
