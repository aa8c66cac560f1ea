"""A function run once on symbolic cells, and the printers of what it did: one for each target."""
