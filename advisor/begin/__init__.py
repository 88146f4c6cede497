"""The way in: a new plan asked for line by line, and help by topic."""
