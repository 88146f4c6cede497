"""The conversation: a session of facts, one turn at a time; the terminal around it; its safe
keeping.
"""
