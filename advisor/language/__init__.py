"""What a leader types, understood by a closed grammar over the vocabulary's phrases.

Nothing is guessed into a fact.
"""
