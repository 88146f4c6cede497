"""Leafing through the rules and the facts they look at."""
