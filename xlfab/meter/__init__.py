"""The user's own power logger: reading its file, finding the power of each state, reporting, and filling a scenario with it."""
