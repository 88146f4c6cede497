"""Pictures drawn from the facts: the pitch head from above, the pitch in section, the load chain,
the reasons of a decision.
"""
