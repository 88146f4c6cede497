"""Advice as text, Markdown and JSON."""
