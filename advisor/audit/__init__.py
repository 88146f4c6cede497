"""Looking at a rule base itself: what can never fire, what contradicts, what nobody reads, how
well it is tested.
"""
