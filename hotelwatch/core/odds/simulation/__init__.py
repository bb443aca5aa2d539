"""A whole hotel simulated: what house rules bring, in infested nights, guests, hours, money.

For newcomers: ``policies`` has the rules that are compared, ``hotel`` the rooms, ``lets`` the
guests, ``rounds`` who is looked at when, ``infestations`` what grows meanwhile, ``response``
what follows a find, ``run`` puts them together, ``results`` has figures with intervals,
``calibration`` holds the filter of odds against simulated rooms.

Everything rests on the figures of the odds, most of them assumptions. Two rules on the same
seed meet the same guests, the same introductions, the same luck; that is why their difference
is known better than each figure alone.
"""
