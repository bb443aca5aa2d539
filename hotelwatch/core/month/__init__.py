"""A month in figures: what was due, done and late, and what else the record holds of it.

Everything is counted from facts whose own day lies in the month, as far as they
were written down when the month was closed (or until now). ``figures`` puts the
parts together; ``rows`` says what comes out.
"""
