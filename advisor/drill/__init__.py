"""Rehearsal: a case a step at a time, the person's own choice and reason first, then the advice.
Nobody is scored.
"""
