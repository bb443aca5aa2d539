"""Odds: how likely something was missed, since when, how the hotel stands, what a cycle buys.

For newcomers: ``growth`` says how many insects there are by age, ``sensitivity`` how likely
one look sees any of them, ``room`` puts a room's whole record together, ``find`` a room and
its neighbour at a find, ``hotel`` all rooms. On these stand ``cycles``, ``surveys``,
``learning``, ``past`` and ``simulation``. Three stances (cautious, central, optimistic) run
side by side and are never averaged. Nothing here says that a room is free of insects.
"""
