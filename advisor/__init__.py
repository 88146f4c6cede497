"""Advice for a ladder pitch: facts in, rules and calculations run, recommendations with their
reasons out.
"""
