"""Find bed bugs early in a hotel's beds, and prove what was looked at.

Facts flow one way: store → house → core's answers → what people see. A person's
decision, made through ``actions``, is the only way back: it becomes a new fact.
Start reading at ``core/facts.py``, then ``core/house.py``.
"""

__version__ = "0.1.0"
