"""From fired rules to decisions, verdicts, sequences and advice."""
