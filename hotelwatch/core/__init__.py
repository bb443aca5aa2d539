"""The trade in plain Python: pure answers from a frozen House.

Nothing here reads a file, a clock, a database or a widget; the day is an argument.
Each folder is one subject and reads only those below it: facts, house, then
building and stays, then checks, then rounds and cases, then the month.
"""
