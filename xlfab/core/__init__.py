"""What everything rests on: errors, units, the vocabulary, sources, numbers and their bounds, files read and written."""
