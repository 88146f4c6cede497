"""Reasons told as sentences."""
