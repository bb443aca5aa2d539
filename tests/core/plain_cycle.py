"""What a cycle brings by a plain loop over days of the cycle, places and ages: no arrays."""

from __future__ import annotations

from collections import defaultdict


def plain_detection(eyes, cycle_days, traps_every_days=14):
    """Mean days, first finders' shares and the chance of being found on each age, by hand."""
    ages = len(eyes.insects)
    trap_phases = range(1, traps_every_days + 1) if eyes.traps is not None else (0,)
    found = [0.0] * ages
    first = defaultdict(float)
    for place, share in enumerate(eyes.shares):
        check, glance = eyes.check[place].tolist(), eyes.glance[place].tolist()
        traps = eyes.traps[place].tolist() if eyes.traps is not None else None
        guest = eyes.guest.tolist()
        for entry in range(1, cycle_days + 1):
            for phase in trap_phases:
                hidden = float(share) / cycle_days / len(trap_phases)
                for age in range(ages):
                    looks = [("guest", guest[age]), ("glance", glance[age])]
                    if traps is not None and age >= phase and (age - phase) % traps_every_days == 0:
                        looks.append(("traps", traps[age]))
                    if age >= entry and (age - entry) % cycle_days == 0:
                        looks.append(("check", check[age]))
                    for who, chance in looks:
                        first[who] += hidden * chance
                        found[age] += hidden * chance
                        hidden *= 1.0 - chance
                    if hidden < 1e-15:
                        break
                first["nobody"] += hidden
    mean = sum(age * chance for age, chance in enumerate(found)) + ages * first["nobody"]
    return mean, dict(first), found
