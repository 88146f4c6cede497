"""Rules in the neutral form that both engines read."""
