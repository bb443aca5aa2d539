"""Heat and cold: what dose each probe of a log shows, and what the log does not show.

Begin with ``dose`` (the equations), then ``probes`` (what a log's readings are worth),
then ``verdict`` (what follows, and what is missing). A dose says what was reached where
a probe lay; it says nothing of places without one, and whether a room may be let again
is the release's business.
"""
