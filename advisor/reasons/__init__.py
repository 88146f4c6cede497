"""Why: one tree of reasons, down to facts, absences, numbers and sources; and its renderings."""
