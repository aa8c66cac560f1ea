"""The work of a shop on its machines: parts, bends, cuts, set-ups, limits, hours. Comparison and quote both build on it."""
