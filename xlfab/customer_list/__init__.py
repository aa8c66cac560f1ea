"""A customer's list of parts, read into the scenario's tables: the mapping is shown, what cannot be read is listed, nothing is guessed silently."""
