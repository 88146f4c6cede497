"""What is told of an advice: one list of blocks, shown as text, Markdown, HTML or Word, with
pictures and the provenance of every conclusion.
"""
