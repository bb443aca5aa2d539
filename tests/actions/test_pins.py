from __future__ import annotations

import argon2
import pytest
from argon2.low_level import Type, core, error_to_str, ffi, lib
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.actions import pins
from hotelwatch.core.problems import Refusal
from tests.build import rules

PIN = "2580"
QUICK = "$argon2id$v=19$m=8,t=1,p=1$"


@pytest.mark.parametrize(
    ("pin", "code"),
    [
        ("", "pin_not_digits"),
        ("12a4", "pin_not_digits"),
        ("٣٤٥٦", "pin_not_digits"),
        ("258", "pin_too_short"),
        ("2" * 33, "pin_too_long"),
        ("7777", "pin_too_plain"),
        ("1234", "pin_too_plain"),
        ("8901", "pin_too_plain"),
        ("4321", "pin_too_plain"),
    ],
)
def test_what_is_no_pin_is_refused(pin, code):
    with pytest.raises(Refusal, match=code):
        pins.check_pin(pin, rules().figures)


def test_a_pin_is_hashed_as_the_standard_recommends_and_the_library_verifies_it():
    # RFC 9106, section 4, second recommended option: Argon2id, t=3, m=2^16 KiB, p=4,
    # 128-bit salt, 256-bit tag.
    made = pins.hash_of(PIN)
    told = argon2.extract_parameters(made)
    assert (told.type, told.time_cost, told.memory_cost, told.parallelism) == (Type.ID, 3, 2**16, 4)
    assert (told.version, told.salt_len, told.hash_len) == (0x13, 16, 32)
    assert argon2.PasswordHasher().verify(made, PIN)
    assert pins.fits(PIN, made)
    assert not pins.fits("2581", made)


@settings(max_examples=25, deadline=None)
@given(st.text("0123456789", min_size=4, max_size=8), st.text("0123456789", min_size=4, max_size=8))
def test_only_the_pin_itself_fits_its_hash(pin, other):
    made = argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1).hash(pin)
    assert pins.fits(pin, made)
    assert pins.fits(other, made) is (pin == other)


def test_what_is_no_hash_fits_nothing():
    for broken in ("", "hash", QUICK, QUICK + "x$y", "$argon2id$v=19$m=8$zz"):
        assert not pins.fits(PIN, broken)


def test_the_binding_computes_the_standards_test_vector():
    # RFC 9106, section 5.3, Argon2id: password 32 x 01, salt 16 x 02, secret 8 x 03,
    # associated data 12 x 04, t=3, m=32 KiB, p=4, tag of 32 bytes.
    tag = "0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659"
    out = ffi.new("uint8_t[]", 32)
    given = {
        name: ffi.new("uint8_t[]", bytes([byte]) * size)
        for name, byte, size in (("pwd", 1, 32), ("salt", 2, 16), ("secret", 3, 8), ("ad", 4, 12))
    }
    context = ffi.new(
        "argon2_context *",
        {
            "out": out,
            "outlen": 32,
            "version": 0x13,
            **given,
            "pwdlen": 32,
            "saltlen": 16,
            "secretlen": 8,
            "adlen": 12,
            "t_cost": 3,
            "m_cost": 32,
            "lanes": 4,
            "threads": 4,
            "allocate_cbk": ffi.NULL,
            "free_cbk": ffi.NULL,
            "flags": lib.ARGON2_DEFAULT_FLAGS,
        },
    )
    code = core(context, Type.ID.value)
    assert code == lib.ARGON2_OK, error_to_str(code)
    assert bytes(ffi.buffer(out, 32)).hex() == tag
