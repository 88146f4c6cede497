"""What the program reasons with, as typed records: conditions, effects, rules, calculations, the
base, what came of a run, and the advice.
"""
