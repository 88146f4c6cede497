"""What can be said: values, quantities and the vocabulary."""
