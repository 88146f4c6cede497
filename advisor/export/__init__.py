"""The advice as papers for a risk assessment: Markdown, HTML, DOCX and JSON, with pictures and the
provenance of every conclusion.
"""
