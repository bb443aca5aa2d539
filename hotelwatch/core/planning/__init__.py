"""Find rounds: the house as arrays, a plan and its proof, why not, what if.

``situation`` makes the house a ``problem``; ``worth`` says what a visit saves on each day,
at the prices and with the company that ``balance`` works out for all of them; ``rolling``
fills the teams' days by ``filling``; ``bounds`` proves how good a plan could be;
``planner`` puts it together. ``shortfall`` and ``repairs`` say why not and what helps,
``what_if`` tries changes. ``strict`` is the other order, asked for. Arrays and the solver
live in this folder only, and nothing on the way to the window's first page imports it.
"""
