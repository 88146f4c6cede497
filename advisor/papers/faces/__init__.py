"""The faces of a paper: the same blocks as text, Markdown, HTML and Word."""
