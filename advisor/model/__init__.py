"""What the program reasons with, as typed records: conditions, effects, rules, calculations, the
base and what came of a run.
"""
