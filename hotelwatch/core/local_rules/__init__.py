"""What local rules ask, judged from the record: met, not met, not arisen, or nobody can tell.

Pure answers. Nothing here is legal advice, and nothing is judged that the record does not
show: what it can't show, somebody looks at for themselves.
"""
